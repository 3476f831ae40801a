using System.Collections.Immutable;
using BackHistory.History.Horses;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;
using BackHistory.Trends.SinceFit.Joint;

namespace BackHistory.History.Tests.Reminders;

/// <summary>One horse with one saddle whose numbers are whatever the test says they are: what an evaluation would find, without the
/// statistics.</summary>
internal sealed class ModelWorld
{
    public static readonly Guid HorseId = DeterministicId.From("horse");
    public static readonly Guid SaddleId = DeterministicId.From("saddle");
    public static readonly Guid Owner = DeterministicId.From("owner");
    public static readonly Guid Manager = DeterministicId.From("manager");
    private int _ids;

    public DateTimeOffset Now { get; set; } = new(2026, 1, 5, 9, 0, 0, TimeSpan.Zero);

    public List<ModelVisit> Visits { get; } = [];

    public List<SaddleFit> Fits { get; } = [];

    public List<CareSpan> Care { get; } = [];

    public DateTimeOffset? LastCorrection { get; set; }

    public ReminderRules Rules { get; set; } = ReminderRules.Default;

    public DateOnly Today => ZoneClock.Day(Now, TimeZoneInfo.Utc);

    public IEnumerable<ModelVisit> Standing => Visits.Where(v => !v.Withdrawn);

    public ModelVisit? Last => Standing.MaxBy(v => v.TakenAt);

    public SaddleFit Fit => Fits.MaxBy(f => f.TakenAt)!;

    public DateOnly Baseline => ZoneClock.Day(Fit.TakenAt, TimeZoneInfo.Utc);

    /// <summary>The shape that the last visit after the fit saw.</summary>
    public bool Refit => Last is { Refit: true } v && v.TakenAt > Fit.TakenAt;

    public bool Caution => Last is { Caution: true } v && v.TakenAt > Fit.TakenAt;

    public DateOnly Due => ZoneClock.Day((Last?.TakenAt ?? Fit.TakenAt), TimeZoneInfo.Utc).AddDays(180);

    public bool OutOfWork => Care.Any(c => c.Kind == CareKind.LayOff && c.From <= Today && (c.Until is null || c.Until > Today));

    public Guid NewId() => DeterministicId.From("id", (++_ids).ToString(System.Globalization.CultureInfo.InvariantCulture));

    public Situation Situation(IReadOnlyList<Reminder> reminders) =>
        new(
            "practice",
            Profile(),
            [
                .. Visits.Select(v => new VisitRecord
                {
                    Id = v.Id,
                    HorseId = HorseId,
                    TakenAt = v.TakenAt,
                    RecordedAt = v.RecordedAt,
                    Withdrawn = v.Withdrawn,
                }),
            ],
            Assessment(),
            reminders,
            new Readers(Owner, Manager),
            Rules,
            WatchRules.Default,
            Now,
            TimeZoneInfo.Utc
        );

    private HorseProfile Profile() =>
        new()
        {
            Id = HorseId,
            Name = "Model Horse",
            Foaled = new DateOnly(2012, 4, 1),
            OwnerId = Owner,
            Visits = Standing.ToImmutableSortedDictionary(v => v.Id, v => v.TakenAt),
            Fits = [.. Fits],
            Care = [.. Care],
            LastCorrection = LastCorrection,
        };

    private Assessment Assessment()
    {
        var caution = Caution ? new VetCaution("left", "behind-shoulder", 0.9, -12, 3) : null;
        var decision = new HorseDecision(
            Refit ? WatchState.Refit : WatchState.Steady,
            Refit ? 0.97 : 0.02,
            Baseline,
            Today,
            [],
            null,
            [],
            null,
            [],
            new NextCheck(Due, CheckReason.SteadyWork),
            null,
            caution,
            [],
            1
        );
        return new Assessment
        {
            Id = HorseId,
            AsOf = Today,
            RulesVersion = 1,
            State = decision.State,
            NextCheckDue = Due,
            Saddles = [new SaddleAssessment(SaddleId, Fit.WorkId, null, decision)],
        };
    }
}

internal sealed record ModelVisit(
    Guid Id,
    DateTimeOffset TakenAt,
    DateTimeOffset RecordedAt,
    bool Refit,
    bool Caution,
    bool Withdrawn = false
);
