# Shared by the scripts of this folder: what the machine must have, installed where that is allowed.
# shellcheck shell=bash

say() { printf '%s\n' "$*" >&2; }

# Installs the named Debian packages that are missing; without the right to, prints the exact command and stops.
need_packages() {
  local missing=() p
  for p in "$@"; do dpkg-query -W -f='${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || missing+=("$p"); done
  [ ${#missing[@]} -eq 0 ] && return 0
  local sudo=""
  if [ "$(id -u)" -ne 0 ]; then
    if command -v sudo >/dev/null && sudo -n true 2>/dev/null; then sudo=sudo
    else say "Missing: ${missing[*]}"; say "Install with:  sudo apt-get install --no-install-recommends ${missing[*]}"; exit 1; fi
  fi
  command -v apt-get >/dev/null || { say "Missing: ${missing[*]} (no apt-get here; install the like of them)"; exit 1; }
  # BackHistory starts a PostgreSQL of its own: Debian need not start another one.
  [ -e /etc/postgresql-common ] || { $sudo mkdir -p /etc/postgresql-common
    echo 'create_main_cluster = false' | $sudo tee /etc/postgresql-common/createcluster.conf >/dev/null; }
  say "Installing: ${missing[*]}"
  local tries=0
  until { [ $tries -eq 0 ] || $sudo apt-get update -qq; } && \
        $sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
          -o Dpkg::Options::=--force-confold "${missing[@]}" >&2; do
    tries=$((tries + 1)); [ $tries -lt 4 ] || { say "apt-get could not install: ${missing[*]}"; exit 1; }
  done
}

need_sdk() {
  dotnet --list-sdks 2>/dev/null | grep -q '^10\.' && return 0
  say "The .NET 10 SDK is missing. Install it (Debian: apt-get install dotnet-sdk-10.0 from Microsoft's feed) and run this again."
  exit 1
}

need_postgres() {
  [ -n "${ConnectionStrings__Main:-}" ] && return 0
  command -v initdb >/dev/null 2>&1 && return 0
  compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null && return 0
  need_packages postgresql
}

# Builds the page scripts from their locked sources; what npm has installed already is left alone.
need_scripts() {
  command -v npm >/dev/null 2>&1 || need_packages nodejs npm
  local at=src/BackHistory.Service/Scripts stamp
  stamp=$(sha256sum "$at/package-lock.json" | cut -d" " -f1)
  if [ "$(cat "$at/node_modules/.stamp" 2>/dev/null)" != "$stamp" ]; then
    (cd "$at" && npm ci --no-audit --no-fund --loglevel=error >&2) && echo "$stamp" >"$at/node_modules/.stamp"
  fi
  (cd "$at" && npm run --silent build >&2)
}
