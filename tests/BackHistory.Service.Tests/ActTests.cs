using BackHistory.Application;
using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.Application.Visits;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>The acts and the doors that lead to them: an act's right is asked at each of its doors.</summary>
public sealed class ActTests(RunningService service)
{
    /// <summary>Doors by the names of what they bind; a door that leads to an act takes that act as a parameter.</summary>
    [Fact]
    public void Every_endpoint_that_reaches_an_act_asks_for_the_acts_right()
    {
        var reached = new HashSet<Type>();
        var wrong = new List<string>();
        foreach (var endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            var handler = endpoint.Metadata.GetMetadata<System.Reflection.MethodInfo>();
            foreach (var act in Acts.All.Intersect(Bound(handler)))
            {
                reached.Add(act);
                var needs = (Right)act.GetProperty(nameof(IAct.Needs))!.GetValue(null)!;
                var asks = endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Select(a => a.Policy).ToList();
                // The reader of a letter or of a shared horse holds a sealed link instead of a right.
                if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null && ByLink.Contains(act))
                    continue;
                if (!asks.Contains(needs.ToString().ToLowerInvariant()))
                    wrong.Add(
                        $"{endpoint.RoutePattern.RawText} reaches {act.Name}, which needs {needs}, and asks {string.Join(", ", asks)}"
                    );
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(Acts.All.Order(ByName), reached.Order(ByName));
        Assert.Contains(typeof(EnterVisit), reached);
    }

    /// <summary>What a handler takes, where it takes several as one.</summary>
    private static IEnumerable<Type> Bound(System.Reflection.MethodInfo? handler) =>
        (handler?.GetParameters() ?? []).SelectMany(p =>
            p.IsDefined(typeof(AsParametersAttribute), inherit: false)
                ? p.ParameterType.GetConstructors().Single().GetParameters().Select(one => one.ParameterType)
                : [p.ParameterType]
        );

    /// <summary>What the reader of a letter may do by its links.</summary>
    private static readonly Type[] ByLink = [typeof(GiveAnswer), typeof(StopLetters)];

    private static readonly Comparer<Type> ByName = Comparer<Type>.Create((a, b) => string.CompareOrdinal(a.Name, b.Name));
}
