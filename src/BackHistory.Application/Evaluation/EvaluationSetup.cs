using BackHistory.Application.Letters;
using BackHistory.Application.Reminders;
using BackHistory.Application.Trends;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Evaluation;

/// <summary>Evaluation and letters, for whoever hosts them; mail and links are the host's.</summary>
public static class EvaluationSetup
{
    public static IServiceCollection AddEvaluation(this IServiceCollection services) =>
        services
            .AddSingleton<FirstReader>()
            .AddSingleton<BookedVisits>()
            .AddSingleton<MonthPlanner>()
            .AddSingleton<BookingClashes>()
            .AddSingleton<OfferedTimes>()
            .AddSingleton<VisitReaders>()
            .AddSingleton<HorseData>()
            .AddSingleton<HorseLetters>()
            .AddSingleton<DigestLetters>()
            .AddSingleton<LetterWriter>()
            .AddSingleton<LetterReaders>()
            .AddSingleton<LetterPreview>()
            .AddSingleton<LetterRecord>()
            .AddSingleton<LetterPost>()
            .AddSingleton<FirstLetters>()
            .AddSingleton<DigestSchedule>()
            .AddSingleton<PracticeEvaluation>()
            .AddSingleton<EvaluationWatch>();
}
