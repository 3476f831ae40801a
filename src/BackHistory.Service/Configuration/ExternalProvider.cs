namespace BackHistory.Service.Configuration;

/// <param name="Name">As the button says it; also names the provider in accounts, so it does not change.</param>
/// <param name="Authority">Where its discovery document stands.</param>
public sealed record ExternalProvider(string Name, Uri Authority, string ClientId, string? ClientSecret)
{
    /// <summary>Letters and digits of the name: the scheme and the address that it calls back.</summary>
    public string Scheme => "external-" + string.Concat(Name.ToLowerInvariant().Where(char.IsAsciiLetterOrDigit));

    /// <summary>Where it sends people back to.</summary>
    public string CallbackPath => $"/sign-in/{Scheme}";

    internal static ExternalProvider? Read(IConfigurationSection section) =>
        section["Name"] is { Length: > 0 } name
        && section["ClientId"] is { Length: > 0 } client
        && Uri.TryCreate(section["Authority"], UriKind.Absolute, out var authority)
            ? new ExternalProvider(name, authority, client, section["ClientSecret"])
            : null;
}
