namespace BackHistory.Store.Accounts;

/// <param name="Provider">The configured name of the sign-in service.</param>
/// <param name="Key">Who the person is there.</param>
public sealed record ExternalLogin(string Provider, string Key, string? Name);
