# Shared by the scripts of this folder: what the machine must have, installed where that is allowed.
# shellcheck shell=bash

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 DOTNET_CLI_UI_LANGUAGE=en
# No build server outlives the script that started it.
export MSBUILDDISABLENODEREUSE=1

say() { printf '%s\n' "$*" >&2; }

# Runs a command that is silent while it works and shows all of it when it fails.
quietly() {
  local log status=0
  log=$(mktemp)
  "$@" >"$log" 2>&1 </dev/null || status=$?
  [ $status -eq 0 ] || cat "$log" >&2
  rm -f "$log"
  return $status
}

# Empty for root, "sudo" for whoever may use it unasked; fails for everybody else.
as_root() {
  [ "$(id -u)" -ne 0 ] || return 0
  command -v sudo >/dev/null && sudo -n true 2>/dev/null && echo sudo
}

# Installs the named Debian packages that are missing; without the right to, prints the exact command and stops.
need_packages() {
  local missing=() p sudo tries
  if ! command -v apt-get >/dev/null; then
    say "This machine has no apt-get. Install the like of these, then run this again: $*"
    exit 1
  fi
  for p in "$@"; do dpkg-query -W -f='${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || missing+=("$p"); done
  [ ${#missing[@]} -gt 0 ] || return 0
  if ! sudo=$(as_root); then
    say "Missing: ${missing[*]}"
    say "Install with:  sudo apt-get install --no-install-recommends ${missing[*]}"
    exit 1
  fi
  case " ${missing[*]} " in *" postgresql "*) no_main_cluster "$sudo";; esac
  say "Installing: ${missing[*]}"
  # The package lists may be absent or old: they are fetched when the first try fails.
  for tries in 1 2 3 4; do
    # shellcheck disable=SC2086
    quietly $sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
      -o DPkg::Lock::Timeout=300 -o Dpkg::Options::=--force-confold "${missing[@]}" && return 0
    say "apt-get could not install them (try $tries of 4); fetching the package lists"
    # shellcheck disable=SC2086
    quietly $sudo apt-get update -qq -o DPkg::Lock::Timeout=300 || sleep 5
  done
  say "Could not install: ${missing[*]}"
  exit 1
}

# BackHistory starts a PostgreSQL of its own: Debian need not start another one.
no_main_cluster() {
  [ ! -e /etc/postgresql-common/createcluster.conf ] || return 0
  $1 mkdir -p /etc/postgresql-common
  echo 'create_main_cluster = false' | $1 tee /etc/postgresql-common/createcluster.conf >/dev/null
}

need_sdk() {
  if ! dotnet --list-sdks 2>/dev/null | grep -q '^10\.'; then
    say "The .NET 10 SDK is missing. Install it (Debian: dotnet-sdk-10.0 from Microsoft's package feed) and run this again."
    exit 1
  fi
  # .NET needs ICU; the package's name carries the version of the distribution.
  ldconfig -p | grep -q 'libicuuc\.so' ||
    need_packages "$(apt-cache search --names-only '^libicu[0-9]+$' | sort -V | tail -n 1 | cut -d' ' -f1 | grep . || echo libicu72)"
}

# Charts and sheets are set in Open Sans.
need_fonts() { need_packages fontconfig fonts-open-sans; }

need_postgres() {
  [ -z "${ConnectionStrings__Main:-}" ] || return 0
  ! command -v initdb >/dev/null 2>&1 || return 0
  ! compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null || return 0
  need_packages postgresql
}

# Restores what the lock files name, and nothing else; a feed that stumbles is asked again.
restore() {
  local tries
  for tries in 1 2 3; do
    quietly dotnet restore "$1" --locked-mode -v q && return 0
    say "the packages could not be restored (try $tries of 3)"
    sleep $((tries * 3))
  done
  return 1
}

# Builds the page scripts and styles from their locked sources, before the service that serves them; what npm has installed already is
# left alone.
need_scripts() {
  command -v npm >/dev/null 2>&1 || need_packages nodejs npm
  local at=src/BackHistory.Service/Scripts stamp tries
  stamp=$(sha256sum "$at/package-lock.json" | cut -d" " -f1)
  for tries in 1 2 3; do
    [ "$(cat "$at/node_modules/.stamp" 2>/dev/null)" != "$stamp" ] || break
    quietly npm --prefix "$at" ci --no-audit --no-fund --loglevel=error && echo "$stamp" >"$at/node_modules/.stamp" && break
    say "the packages of the page scripts could not be installed (try $tries of 3)"
    sleep $((tries * 3))
  done
  quietly npm --prefix "$at" run --silent build || { say "the page scripts do not build"; return 1; }
}

build() { quietly dotnet build "$1" -c Release --no-restore -v q -clp:NoSummary || { say "$1 does not build"; return 1; }; }
