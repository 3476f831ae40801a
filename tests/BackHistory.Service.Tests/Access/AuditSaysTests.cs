using BackHistory.Service.Audit;
using BackHistory.Store.Audit;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.Routing.Patterns;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>The audit is read by people: what somebody looked at is said in words, never by the end of an address.</summary>
public sealed class AuditSaysTests(RunningService service)
{
    [Fact]
    public void Everything_of_a_horse_that_can_be_looked_at_has_words_in_the_audit()
    {
        var looks = service
            .Services.GetRequiredService<EndpointDataSource>()
            .Endpoints.OfType<RouteEndpoint>()
            .Where(e => e.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods.Contains("GET") ?? false)
            .Where(e => e.RoutePattern.Parameters.Any(p => p.Name.Equals("horseId", StringComparison.OrdinalIgnoreCase)))
            .Select(e => (e.RoutePattern.RawText, Said: Said(LastWord(e))))
            .ToList();
        Assert.True(looks.Count > 30, $"only {looks.Count} addresses of a horse were found");
        var bare = looks.Where(l => !Articles.Any(a => l.Said.StartsWith($"Mara looked at {a} ", StringComparison.Ordinal))).ToList();
        Assert.True(bare.Count == 0, string.Join('\n', bare.Select(l => $"{l.RawText}: {l.Said}")));
    }

    private static readonly string[] Articles = ["a", "the", "its", "who"];

    private static string Said(string? word) =>
        AuditSays.Sentence(
            new AuditNote(Guid.Empty, DateTimeOffset.UnixEpoch, AuditWords.Saw, Guid.Empty, Guid.Empty) { Detail = word },
            _ => "Mara"
        );

    /// <summary>As the trail notes it.</summary>
    private static string LastWord(RouteEndpoint endpoint)
    {
        var last = endpoint
            .RoutePattern.PathSegments.Select(s => s.Parts[0])
            .OfType<RoutePatternLiteralPart>()
            .Select(p => p.Content.TrimEnd('.'))
            .Last();
        return last == "horses" ? "the horse" : last;
    }
}
