using System.Reflection;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Jobs;
using BackHistory.Store.Practices;
using Hangfire;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests;

/// <summary>A job's practice comes from its arguments: they are checked before anything is done.</summary>
public sealed class JobTenantTests(RunningService service)
{
    private static IReadOnlyList<MethodInfo> Jobs =>
        [
            .. typeof(Host)
                .Assembly.GetTypes()
                .SelectMany(t => t.GetMethods(BindingFlags.Instance | BindingFlags.Public | BindingFlags.DeclaredOnly))
                .Where(m => m.GetCustomAttribute<QueueAttribute>() is not null && !OfNoPractice.Contains(m.DeclaringType)),
        ];

    /// <summary>Letters about an account, which is of no practice; and the mailbox into which what comes back to any practice
    /// falls.</summary>
    private static readonly Type[] OfNoPractice = [typeof(AccountLetterJob), typeof(DeliveryReportsJob)];

    [Fact]
    public void Every_job_says_for_which_practice_it_works()
    {
        Assert.True(Jobs.Count >= 2, $"only {Jobs.Count} jobs were found");
        Assert.All(
            Jobs,
            job =>
                Assert.True(
                    job.GetParameters() is [{ Name: "practice" } first, ..] && first.ParameterType == typeof(string),
                    $"{job.DeclaringType!.Name}.{job.Name}"
                )
        );
    }

    [Theory]
    [InlineData("")]
    [InlineData("nobody's")]
    [InlineData("MINE")]
    [InlineData("mine' or '1'='1")]
    public async Task A_job_for_a_practice_that_is_not_here_does_nothing(string practice)
    {
        foreach (var job in Jobs)
        {
            var target = ActivatorUtilities.GetServiceOrCreateInstance(service.Services, job.DeclaringType!);
            object?[] arguments =
            [
                .. job.GetParameters()
                    .Select(
                        (p, i) =>
                            i == 0 ? practice
                            : p.ParameterType.IsValueType ? Activator.CreateInstance(p.ParameterType)
                            : null
                    ),
            ];
            await Assert.ThrowsAsync<NoSuchPracticeException>(() => (Task)job.Invoke(target, arguments)!);
        }
    }
}
