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
