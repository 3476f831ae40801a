using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Evaluation;

/// <summary>Evaluation and letters, for whoever hosts them; mail, links and what letters say of horses are the host's.</summary>
public static class EvaluationSetup
{
    public static IServiceCollection AddEvaluation(this IServiceCollection services) =>
        services
            .AddSingleton<FirstReader>()
            .AddSingleton<MonthPlanner>()
            .AddSingleton<LetterWriter>()
            .AddSingleton<LetterRecord>()
            .AddSingleton<LetterPost>()
            .AddSingleton<FirstLetters>()
            .AddSingleton<DigestSchedule>()
            .AddSingleton<PracticeEvaluation>()
            .AddSingleton<EvaluationWatch>();
}
