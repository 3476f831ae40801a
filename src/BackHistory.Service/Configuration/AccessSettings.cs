namespace BackHistory.Service.Configuration;

/// <summary>What whoever runs the service decides about signing in.</summary>
/// <param name="SecondFactor">A practice is entered with two factors only: a password and a code, or a passkey.</param>
public sealed record AccessSettings(bool SecondFactor = true)
{
    /// <summary>Sign-in services of others (OpenID Connect).</summary>
    public IReadOnlyList<ExternalProvider> External { get; init; } = [];

    /// <summary>Addresses of the administrators who may see the jobs of every practice.</summary>
    public IReadOnlyList<string> Operators { get; init; } = [];

    public AccessLimits Limits { get; init; } = new();

    public static AccessSettings Read(IConfiguration section) =>
        new(section["SecondFactor"] is not ("0" or "false" or "no" or "optional"))
        {
            Limits = new AccessLimits(
                section.GetValue("Limits:Guesses", 20),
                section.GetValue("Limits:PersonPerMinute", 1200),
                section.GetValue("Limits:AddressPerMinute", 300)
            ),
            Operators = section["Operators"]?.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries) ?? [],
            External = [.. section.GetSection("External").GetChildren().Select(ExternalProvider.Read).OfType<ExternalProvider>()],
        };
}

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

/// <summary>How often is often: a hand never reaches these, a script does.</summary>
/// <param name="Guesses">Attempts at signing in, recovering or codes from one address in a minute, and for one account in a quarter of an
/// hour.</param>
/// <param name="PersonPerMinute">Requests of one signed-in person or one key.</param>
/// <param name="AddressPerMinute">Requests of one address that nobody is signed in from.</param>
public sealed record AccessLimits(int Guesses = 20, int PersonPerMinute = 1200, int AddressPerMinute = 300);
