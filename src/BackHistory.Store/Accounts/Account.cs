using System.Collections.Immutable;
using JasperFx.Metadata;

namespace BackHistory.Store.Accounts;

/// <summary>Who signs in. Not of one practice: a person may work in several and own horses in others.</summary>
public sealed record Account : IVersioned
{
    public Guid Id { get; set; }

    /// <summary>The store's own: two who change an account at once do not undo each other.</summary>
    public Guid Version { get; set; }

    public string Email { get; set; } = "";

    public string NormalizedEmail { get; set; } = "";

    public bool EmailConfirmed { get; set; }

    /// <summary>Of the letters about the account.</summary>
    public string Language { get; set; } = "en";

    public string? PasswordHash { get; set; }

    public string? SecurityStamp { get; set; }

    public int FailedSignIns { get; set; }

    public DateTimeOffset? LockedUntil { get; set; }

    public bool MayBeLocked { get; set; } = true;

    /// <summary>Wrong codes since the last right one; wrong passwords count in <see cref="FailedSignIns"/>.</summary>
    public int FailedCodes { get; set; }

    public DateTimeOffset? CodesRestUntil { get; set; }

    /// <summary>A code from the authenticator app is asked for besides the password.</summary>
    public bool TwoFactor { get; set; }

    /// <summary>The authenticator app's secret, sealed by the service.</summary>
    public string? AuthenticatorKey { get; set; }

    /// <summary>The time step of the last code that was accepted: a code counts once.</summary>
    public long LastCodeStep { get; set; }

    /// <summary>Codes for the day on which the telephone is lost, hashed with <see cref="RecoverySalt"/>; a code that was used is
    /// gone.</summary>
    public ImmutableList<string> RecoveryCodes { get; set; } = [];

    public string? RecoverySalt { get; set; }

    public ImmutableList<Passkey> Passkeys { get; set; } = [];

    /// <summary>Accounts elsewhere that sign this one in.</summary>
    public ImmutableList<ExternalLogin> Logins { get; set; } = [];

    /// <summary>In which practices, as whom.</summary>
    public ImmutableList<Membership> Memberships { get; set; } = [];

    /// <summary>Horses of any practice that somebody lets this person see, and that they accepted.</summary>
    public ImmutableList<HeldGrant> Shared { get; set; } = [];

    /// <summary>The practice in which this person is working now; the first one where unset.</summary>
    public string? Working { get; set; }

    /// <summary>Of the invented practice: its password is printed, so a second factor would protect nothing.</summary>
    public bool Invented { get; set; }
}
