using System.Collections.Concurrent;
using System.Security.Claims;
using BackHistory.Service.Configuration;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using OpenIddict.Abstractions;
using static OpenIddict.Abstractions.OpenIddictConstants;
using static OpenIddict.Server.OpenIddictServerEvents;

namespace BackHistory.Testing;

/// <summary>
/// A sign-in service of somebody else, on loopback: a real OpenID Connect provider (OpenIddict) with the code flow and
/// nothing else. Whoever comes is <see cref="Subject"/>. It demands PKCE, and a code counts once.
/// </summary>
public sealed class OpenIdProvider : IAsyncDisposable
{
    public const string Name = "Elsewhere";
    private const string ClientId = "backhistory";
    private const string ClientSecret = "between the two of us";

    private readonly WebApplication _app;
    private readonly ConcurrentDictionary<string, bool> _used = new(StringComparer.Ordinal);

    private OpenIdProvider(Func<OpenIdProvider, WebApplication> build) => _app = build(this);

    /// <summary>Who is signed in there.</summary>
    public string Subject { get; set; } = "somebody";

    /// <summary>Whether whoever comes says no.</summary>
    public bool Declines { get; set; }

    /// <summary>What the next tokens carry in place of the nonce that was asked for.</summary>
    public string? OtherNonce { get; set; }

    /// <summary>How often it was asked for tokens, and how often it gave some.</summary>
    public int Asked { get; private set; }

    public int Given { get; private set; }

    /// <summary>As whoever runs the service enters it.</summary>
    public ExternalProvider Settings { get; private set; } = null!;

    public static async Task<OpenIdProvider> Start()
    {
        var provider = new OpenIdProvider(Build);
        await provider._app.StartAsync();
        var address = provider._app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        provider.Settings = new ExternalProvider(Name, new Uri(address), ClientId, ClientSecret);
        // Its keys are made at the first question, which on a busy machine takes longer than a service that is up may take.
        using var asks = new HttpClient();
        (await asks.GetAsync($"{address}/.well-known/openid-configuration")).EnsureSuccessStatusCode();
        (await asks.GetAsync($"{address}/.well-known/jwks")).EnsureSuccessStatusCode();
        return provider;
    }

    public ValueTask DisposeAsync() => _app.DisposeAsync();

    private static WebApplication Build(OpenIdProvider self)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.ClearProviders();
        builder
            .Services.AddOpenIddict()
            .AddServer(server =>
            {
                server.SetAuthorizationEndpointUris("authorize").SetTokenEndpointUris("token");
                server.AllowAuthorizationCodeFlow().RequireProofKeyForCodeExchange();
                // Its one client is known without a database.
                server.EnableDegradedMode();
                server.AddEphemeralEncryptionKey().AddEphemeralSigningKey();
                server.UseAspNetCore().DisableTransportSecurityRequirement();
                server.AddEventHandler<ValidateAuthorizationRequestContext>(b => b.UseInlineHandler(self.OfClient));
                server.AddEventHandler<HandleAuthorizationRequestContext>(b => b.UseInlineHandler(self.SignIn));
                server.AddEventHandler<ValidateTokenRequestContext>(b => b.UseInlineHandler(self.OfSecret));
                server.AddEventHandler<HandleTokenRequestContext>(b => b.UseInlineHandler(self.Give));
            });
        var app = builder.Build();
        app.Use(
            (http, next) =>
            {
                if (http.Request.Path == "/token")
                    self.Asked++;
                return next(http);
            }
        );
        app.UseAuthentication();
        return app;
    }

    private ValueTask OfClient(ValidateAuthorizationRequestContext context)
    {
        if (context.ClientId != ClientId)
            context.Reject(Errors.InvalidClient, "There is no such client.");
        else if (context.RedirectUri is not { } back || !new Uri(back).AbsolutePath.Equals(Settings.CallbackPath, StringComparison.Ordinal))
            context.Reject(Errors.InvalidRequest, "This is not where the client is.");
        return ValueTask.CompletedTask;
    }

    private ValueTask SignIn(HandleAuthorizationRequestContext context)
    {
        if (Declines)
        {
            context.Reject(Errors.AccessDenied, "The person declined.");
            return ValueTask.CompletedTask;
        }

        if (OtherNonce is not null)
            context.Request.Nonce = OtherNonce;
        var identity = new ClaimsIdentity("Elsewhere", Claims.Name, Claims.Role);
        identity.SetClaim(Claims.Subject, Subject);
        identity.SetScopes(context.Request.GetScopes());
        context.SignIn(new ClaimsPrincipal(identity));
        return ValueTask.CompletedTask;
    }

    private ValueTask OfSecret(ValidateTokenRequestContext context)
    {
        if (context.ClientId != ClientId || context.ClientSecret != ClientSecret)
            context.Reject(Errors.InvalidClient, "There is no such client, or that is not its secret.");
        else if (context.Request.Code is { } code && !_used.TryAdd(code, true))
            context.Reject(Errors.InvalidGrant, "The code was used before.");
        return ValueTask.CompletedTask;
    }

    private ValueTask Give(HandleTokenRequestContext context)
    {
        Given++;
        context.SignIn(context.Principal!);
        return ValueTask.CompletedTask;
    }
}
