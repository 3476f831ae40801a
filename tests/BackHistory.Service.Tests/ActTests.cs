using System.Reflection;
using BackHistory.Application;
using BackHistory.Application.Reminders;
using BackHistory.Application.Visits;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
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
            var handler = endpoint.Metadata.GetMetadata<MethodInfo>();
            foreach (var act in Acts.All.Where(a => handler?.GetParameters().Any(p => p.ParameterType == a) == true))
            {
                reached.Add(act);
                var needs = (Right)act.GetProperty(nameof(IAct.Needs))!.GetValue(null)!;
                var asks = endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Select(a => a.Policy).ToList();
                // The reader of a letter or of a shared horse holds a sealed link instead of a right.
                if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null && act == typeof(GiveAnswer))
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

    [Fact]
    public void Every_page_that_carries_an_act_out_asks_for_the_acts_right()
    {
        var pages =
            from page in typeof(Host).Assembly.GetTypes()
            from part in page.GetProperties(BindingFlags.Instance | BindingFlags.NonPublic | BindingFlags.Public)
            where part.IsDefined(typeof(InjectAttribute)) && Acts.All.Contains(part.PropertyType)
            select (Page: page, Act: part.PropertyType);
        Assert.Contains(pages, p => p.Act == typeof(EnterVisit));
        Assert.All(
            pages,
            p =>
            {
                var needs = (Right)p.Act.GetProperty(nameof(IAct.Needs))!.GetValue(null)!;
                Assert.Contains(
                    needs.ToString().ToLowerInvariant(),
                    p.Page.GetCustomAttributes<AuthorizeAttribute>().Select(a => a.Policy)
                );
            }
        );
    }

    private static readonly Comparer<Type> ByName = Comparer<Type>.Create((a, b) => string.CompareOrdinal(a.Name, b.Name));
}
