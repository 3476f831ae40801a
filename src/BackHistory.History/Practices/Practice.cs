using System.Collections.Immutable;
using BackHistory.History.Reminders;
using BackHistory.Trends.Rules;

namespace BackHistory.History.Practices;

/// <summary>The practice's own rules and tables as they stand, with their versions.</summary>
public sealed partial record Practice : IFolded<Practice>
{
    public Guid Id { get; init; }

    public long Version { get; init; }

    public string Name { get; init; } = "";

    public string TimeZone { get; init; } = "Etc/UTC";

    /// <summary>In what it is told lengths and heights.</summary>
    public DisplayUnits Units { get; init; } = DisplayUnits.Metric;

    /// <summary>The data are invented: every page says so.</summary>
    public bool Invented { get; init; }

    /// <summary>Counts changes of the rules and of what was learned: either changes what is said of a horse.</summary>
    public int RulesVersion { get; init; } = 1;

    /// <summary>As the practice set them.</summary>
    public WatchRules Rules { get; init; } = WatchRules.Default;

    public int ReminderRulesVersion { get; init; } = 1;

    /// <summary>Which reminders are raised, and when people hear of them.</summary>
    public ReminderRules ReminderRules { get; init; } = ReminderRules.Default;

    /// <summary>The practice's own letters, by <see cref="LetterTemplateChanged.KeyOf"/>; a kind that is not here is written as
    /// shipped.</summary>
    public ImmutableSortedDictionary<string, OwnTemplate> Templates { get; init; } = ImmutableSortedDictionary<string, OwnTemplate>.Empty;

    /// <summary>When somebody let the first letters go; null before.</summary>
    public DateTimeOffset? LettersReleasedAt { get; init; }

    /// <summary>What its horses taught; null before.</summary>
    public LearnedPriors? Priors { get; init; }

    /// <summary>The version of the rules at which they were learned; null before.</summary>
    public int? PriorsVersion { get; init; }

    /// <summary>What its own repeats taught of its hands; null before.</summary>
    public LearnedNoise? Noise { get; init; }

    public int? NoiseVersion { get; init; }

    public int ProtocolVersion { get; init; } = 1;

    public IReadOnlyList<Station> Stations { get; init; } = Protocols.Default;

    /// <summary>By key, retired ones too: old settings name them.</summary>
    public ImmutableSortedDictionary<string, GaugeTable> Gauges { get; init; } =
        ImmutableSortedDictionary.Create<string, GaugeTable>(StringComparer.Ordinal);

    public ImmutableSortedDictionary<Guid, Study> Studies { get; init; } = ImmutableSortedDictionary<Guid, Study>.Empty;

    /// <summary>Studies that are recorded as visits.</summary>
    public ImmutableSortedDictionary<Guid, GuidedStudy> GuidedStudies { get; init; } = ImmutableSortedDictionary<Guid, GuidedStudy>.Empty;

    /// <summary>Those whose data were erased.</summary>
    public ImmutableSortedSet<Guid> Erased { get; init; } = [];

    /// <summary>The rules that horses are judged by: the practice's own, with what its horses and hands taught in the place of rules of
    /// thumb.</summary>
    public WatchRules WatchBy() => UsableRules.UsablePart(Rules) with { Version = RulesVersion, Learned = Priors, Repeats = Noise };

    /// <inheritdoc/>
    public static Practice? After(Practice? before, object e) =>
        (before, e) switch
        {
            (_, PracticeFounded d) => From(d),
            (null, _) => null,
            ({ } known, PracticeDetailsCorrected d) => known.Then(d),
            ({ } known, DisplayUnitsChosen d) => known.Then(d),
            ({ } known, WatchRulesChanged d) => known.Then(d),
            ({ } known, ReminderRulesChanged d) => known.Then(d),
            ({ } known, LetterTemplateChanged d) => known.Then(d),
            ({ } known, LettersReleased d) => known.Then(d),
            ({ } known, PriorsLearned d) => known.Then(d),
            ({ } known, NoiseLearned d) => known.Then(d),
            ({ } known, ProtocolChanged d) => known.Then(d),
            ({ } known, GaugeTableChanged d) => known.Then(d),
            ({ } known, GaugeTableRetired d) => known.Then(d),
            ({ } known, RepeatabilityStudied d) => known.Then(d),
            ({ } known, RepeatabilityStudyBegun d) => known.Then(d),
            ({ } known, RepeatedVisitCounted d) => known.Then(d),
            ({ } known, RepeatabilityStudyFinished d) => known.Then(d),
            ({ } known, RepeatabilityStudyWithdrawn d) => known.Then(d),
            ({ } known, PersonErased d) => known.Then(d),
            _ => throw UnknownEventException.In(nameof(Practice), e),
        };

    private static Practice From(PracticeFounded e) =>
        new()
        {
            Id = e.PracticeId,
            Name = e.Name,
            TimeZone = e.TimeZone,
            Invented = e.Invented,
        };

    private Practice Then(PracticeDetailsCorrected e) => this with { Name = e.Name, TimeZone = e.TimeZone };

    private Practice Then(DisplayUnitsChosen e) => this with { Units = new(e.Lengths, e.Heights) };

    private Practice Then(WatchRulesChanged e) => this with { RulesVersion = e.RulesVersion, Rules = e.Rules };

    private Practice Then(ReminderRulesChanged e) => this with { ReminderRulesVersion = e.ReminderRulesVersion, ReminderRules = e.Rules };

    private Practice Then(LetterTemplateChanged e) =>
        this with
        {
            Templates = e.Source is null ? Templates.Remove(e.Key) : Templates.SetItem(e.Key, new OwnTemplate(e.TemplateVersion, e.Source)),
        };

    private Practice Then(LettersReleased e) => this with { LettersReleasedAt = e.TakenAt };

    private Practice Then(PriorsLearned e) =>
        this with
        {
            RulesVersion = e.RulesVersion,
            Priors = e.Priors,
            PriorsVersion = e.RulesVersion,
        };

    private Practice Then(NoiseLearned e) => this with { RulesVersion = e.RulesVersion, Noise = e.Noise, NoiseVersion = e.RulesVersion };

    private Practice Then(ProtocolChanged e) => this with { ProtocolVersion = e.ProtocolVersion, Stations = e.Stations };

    private Practice Then(GaugeTableChanged e) =>
        this with
        {
            Gauges = Gauges.SetItem(e.Key, new GaugeTable(e.Key, e.TableVersion, e.Name, e.Measure, e.Unit, e.Marks)),
        };

    private Practice Then(GaugeTableRetired e) =>
        Gauges.TryGetValue(e.Key, out var table) ? this with { Gauges = Gauges.SetItem(e.Key, table with { Retired = true }) } : this;

    private Practice Then(RepeatabilityStudied e) =>
        this with
        {
            Studies = Studies.SetItem(e.StudyId, new Study(e.StudyId, e.Measure, e.Station, e.Method, e.Raters, e.Subjects, e.TakenAt)),
        };

    private Practice Then(RepeatabilityStudyBegun e) =>
        this with
        {
            GuidedStudies = GuidedStudies.SetItem(
                e.StudyId,
                new GuidedStudy(e.StudyId, e.Method, e.Horses, e.Times, [], false, e.TakenAt, e.By)
            ),
        };

    private Practice Then(RepeatedVisitCounted e) =>
        OfGuided(e.StudyId, s => s with { Visits = [.. s.Visits, new CountedVisit(e.HorseId, e.VisitId)] });

    private Practice Then(RepeatabilityStudyFinished e) => OfGuided(e.StudyId, s => s with { Finished = true });

    private Practice Then(RepeatabilityStudyWithdrawn e) =>
        this with
        {
            Studies = Studies.Remove(e.StudyId),
            GuidedStudies = GuidedStudies.Remove(e.StudyId),
        };

    private Practice Then(PersonErased e) => this with { Erased = Erased.Add(e.PersonId) };

    private Practice OfGuided(Guid studyId, Func<GuidedStudy, GuidedStudy> change) =>
        GuidedStudies.TryGetValue(studyId, out var study)
            ? this with
            {
                GuidedStudies = GuidedStudies.SetItem(studyId, change(study)),
            }
            : this;
}
