using BackHistory.Application.Evaluation;
using BackHistory.Application.Reminders;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Letters;

/// <summary>Evaluation and letters, for whoever hosts them; mail, links and what letters say of horses are the host's.</summary>
public static class LettersSetup
{
    public static IServiceCollection AddLetters(this IServiceCollection services) =>
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
