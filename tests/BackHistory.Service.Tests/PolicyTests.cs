using System.Reflection;
using BackHistory.Service.Access;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>Tests over the tests: nobody forgets a policy, and the practice never comes from a request.</summary>
public sealed class PolicyTests(RunningService service)
{
    /// <summary>Open on purpose, each for the reason that stands beside its mapping.</summary>
    private static readonly string[] Open =
    [
        "/health/live",
        "/health/ready",
        "/health/summary",
        "/health/evaluations",
        "/calendar/{token}",
        "/nothing-here",
        "/not-yours",
        NoSuchFile,
        NotUsed,
        "/api/reference/scalar.js",
        "/api/reference/scalar.aspnetcore.js",
        "/api/reference/favicon.svg",
        // Whoever is not signed in yet.
        "/sign-in",
        "/sign-in/code",
        "/sign-in/passkey",
        "/sign-in/passkey/options",
        "/sign-in/recovery-code",
        "/sign-in/with",
        "/sign-in/back",
        "/forgotten",
        // Whoever holds a sealed link.
        "/letter/{Token}",
        "/letter/{token}",
        "/letter/{token}/day",
        "/letter/{token}/cancel",
        "/new-password/{Token}",
        "/new-password/{token}",
        "/confirm-address/{Token}",
        "/confirm-address/{token}",
        "/welcome/{Token}",
        "/look/{Token}",
        "/look/{token}/open",
        "/look/{token}/chart.svg",
        "/look/{token}/record.pdf",
        "/look/{token}/comment",
        "/look/{token}/answer",
    ];

    /// <summary>Answered as not found before anybody is asked who they are.</summary>
    private const string NoSuchFile = "{**path:file}";

    /// <summary>Closed to everybody: pages here are not navigated by script.</summary>
    private const string NotUsed = "/_framework/opaque-redirect";

    private static readonly string[] Known =
    [
        Policies.See,
        Policies.Enter,
        Policies.Fit,
        Policies.Manage,
        Policies.Administer,
        Policies.Operate,
        Policies.Myself,
        Policies.Proved,
        Policies.Fresh,
    ];

    private IReadOnlyList<RouteEndpoint> Endpoints =>
        [.. service.Services.GetRequiredService<IEnumerable<EndpointDataSource>>().SelectMany(s => s.Endpoints).OfType<RouteEndpoint>()];

    [Fact]
    public void Every_endpoint_names_a_policy_of_ours_or_stands_on_the_open_list()
    {
        Assert.True(Endpoints.Count > 40, $"only {Endpoints.Count} endpoints were found");
        foreach (var endpoint in Endpoints.Where(e => !IsStaticFile(e)))
        {
            var path = endpoint.RoutePattern.RawText ?? "";
            if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null || path is NoSuchFile or NotUsed)
            {
                Assert.Contains(path, Open);
                continue;
            }

            var policies = endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Select(a => a.Policy).ToList();
            var direct = endpoint.Metadata.GetOrderedMetadata<AuthorizationPolicy>();
            Assert.True(policies.Any(p => Known.Contains(p)) || direct.Count > 0, $"{endpoint.DisplayName} ({path}) has no policy");
        }
    }

    [Fact]
    public void No_endpoint_binds_a_practice_from_the_request()
    {
        foreach (var endpoint in Endpoints)
        {
            Assert.DoesNotContain(endpoint.RoutePattern.Parameters, p => Names(p.Name));
            var handler = endpoint.Metadata.GetMetadata<MethodInfo>();
            foreach (var parameter in handler?.GetParameters() ?? [])
                Assert.False(
                    Names(parameter.Name) && parameter.ParameterType == typeof(string),
                    $"{endpoint.DisplayName} takes '{parameter.Name}'"
                );
            foreach (var accepts in endpoint.Metadata.GetOrderedMetadata<Microsoft.AspNetCore.Http.Metadata.IAcceptsMetadata>())
                Assert.DoesNotContain(accepts.RequestType?.GetProperties() ?? [], p => Names(p.Name));
        }
    }

    [Fact]
    public async Task Whoever_may_only_read_cannot_write()
    {
        // The key's account is turned into a reader for this one request.
        var accounts = service.Services.GetRequiredService<BackHistory.Store.Accounts.AccountDocuments>();
        var account = (await accounts.ByEmail(RunningService.EmailOf(RunningService.Changing).ToUpperInvariant(), CancellationToken.None))!;
        var memberships = account.Memberships;
        account.Memberships = [memberships[0] with { Role = BackHistory.Store.Accounts.PracticeRole.ReadOnly }];
        await accounts.Save(account, CancellationToken.None);
        try
        {
            using var client = service.Client(RunningService.Changing);
            Assert.Equal(System.Net.HttpStatusCode.OK, (await client.GetAsync("/api/horses")).StatusCode);
            Assert.Equal(
                System.Net.HttpStatusCode.Forbidden,
                (await client.Write(HttpMethod.Post, "/api/horses", new { name = "x" })).StatusCode
            );
        }
        finally
        {
            account.Memberships = memberships;
            await accounts.Save(account, CancellationToken.None);
        }
    }

    private static bool IsStaticFile(RouteEndpoint endpoint) =>
        endpoint.Metadata.Any(m => m.GetType().Name.Contains("StaticAsset", StringComparison.Ordinal));

    private static bool Names(string? name) =>
        name is not null
        && (name.Contains("tenant", StringComparison.OrdinalIgnoreCase) || name.Equals("practice", StringComparison.OrdinalIgnoreCase));
}
