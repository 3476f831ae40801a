namespace BackHistory.Store.Accounts;

/// <summary>A key that lives in a telephone, a computer or a stick and never leaves it (WebAuthn); here is only its public half.</summary>
/// <param name="Id">The credential's id, base64url.</param>
public sealed record Passkey(
    string Id,
    string PublicKey,
    string Name,
    DateTimeOffset CreatedAt,
    long SignCount,
    IReadOnlyList<string>? Transports,
    bool UserVerified,
    bool BackupEligible,
    bool BackedUp,
    string Attestation,
    string ClientData
);
