using System.Collections.Immutable;

namespace BackHistory.History.Accounts;

/// <summary>Who signs in. Not of one practice: a person may work in several and own horses in others.</summary>
public sealed record Account
{
    public Guid Id { get; set; }

    public string Email { get; set; } = "";

    public string NormalizedEmail { get; set; } = "";

    public bool EmailConfirmed { get; set; }

    public string? PasswordHash { get; set; }

    public string? SecurityStamp { get; set; }

    public int FailedSignIns { get; set; }

    public DateTimeOffset? LockedUntil { get; set; }

    public bool MayBeLocked { get; set; } = true;

    /// <summary>In which practices, as whom.</summary>
    public ImmutableList<Membership> Memberships { get; set; } = [];

    /// <summary>The practice in which this person is working now; the first one where unset.</summary>
    public string? Working { get; set; }
}

/// <param name="Practice">The tenant.</param>
/// <param name="PersonId">Who this account is there.</param>
public sealed record Membership(string Practice, Guid PersonId, PracticeRole Role);

/// <summary>What a person may do in a practice; each may do what those before it may.</summary>
public enum PracticeRole { ReadOnly, Apprentice, Fitter, Manager, Administrator }
