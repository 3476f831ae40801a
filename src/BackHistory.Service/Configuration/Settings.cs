namespace BackHistory.Service.Configuration;

/// <summary>What the person who runs the service decides, from the environment.</summary>
/// <param name="State">Folder for everything that is kept outside a database of the user's own.</param>
/// <param name="Database">The user's own PostgreSQL; null starts a private one.</param>
/// <param name="Member">The login as which practices are served, where their database's administrator made it by hand.</param>
/// <param name="Demo">Load an invented practice when the store is empty.</param>
public sealed record Settings(
    string Urls,
    string State,
    string? Database,
    MailSettings Mail,
    bool Demo,
    Uri? PublicUrl,
    int DemoHorses = 300,
    string? Member = null
)
{
    public AccessSettings Access { get; init; } = new();

    /// <summary>Whether webhooks may be sent to addresses inside the own network.</summary>
    public bool WebhooksInside { get; init; }

    /// <summary>Where people reach this service, without a slash at the end.</summary>
    public string Root => PublicUrl?.ToString().TrimEnd('/') ?? Urls.Split(';')[0].TrimEnd('/');

    public static Settings FromEnvironment(IConfiguration environment)
    {
        var state = environment["BACKHISTORY_STATE"] is { Length: > 0 } folder ? folder : ".local";
        var urls = environment["BACKHISTORY_URLS"] is { Length: > 0 } given ? given : "http://127.0.0.1:5080";
        return new Settings(
            urls,
            Path.GetFullPath(state),
            environment.GetConnectionString("Main") is { Length: > 0 } database ? database : null,
            MailSettings.Read(environment.GetSection("Mail"), Path.Combine(Path.GetFullPath(state), "mail")),
            environment["BACKHISTORY_DEMO"] is not ("0" or "false" or "no"),
            Uri.TryCreate(environment["BACKHISTORY_PUBLIC_URL"], UriKind.Absolute, out var url) ? url : null,
            environment.GetValue("BACKHISTORY_DEMO_HORSES", 300),
            environment.GetConnectionString("Member") is { Length: > 0 } member ? member : null
        )
        {
            WebhooksInside = environment["BACKHISTORY_WEBHOOKS_INSIDE"] is "1" or "true" or "yes",
            Access = AccessSettings.Read(environment.GetSection("SignIn")),
        };
    }
}
