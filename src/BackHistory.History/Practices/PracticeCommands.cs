using BackHistory.History.Reminders;
using BackHistory.Shape.Gauges;
using BackHistory.Trends.Rules;
using BackHistory.Trends.SinceFit;

namespace BackHistory.History.Practices;

public sealed record FoundPractice(Guid PracticeId, string Name, string TimeZone, bool Invented, Guid By);

public sealed record CorrectPractice(string Name, string TimeZone, string Reason, Guid By);

public sealed record ChooseDisplayUnits(LengthUnit Lengths, HeightUnit Heights, Guid By);

/// <summary>The first letters were looked at and may leave.</summary>
public sealed record ReleaseLetters(Guid By);

public sealed record ChangeWatchRules(WatchRules Rules, string Reason, Guid By);

/// <summary>What was learned; null where there was too little to learn from. What is known already is not adopted again.</summary>
public sealed record AdoptLearned(LearnedPriors? Priors, LearnedNoise? Noise, Guid By);

public sealed record ChangeProtocol(IReadOnlyList<Station> Stations, Guid By);

public sealed record ChangeGaugeTable(
    string Key,
    string Name,
    string Measure,
    string Unit,
    IReadOnlyList<GaugeMark> Marks,
    string Reason,
    Guid By
);

public sealed record RetireGaugeTable(string Key, string Reason, Guid By);

public sealed record StudyRepeatability(
    Guid StudyId,
    string Measure,
    string? Station,
    string Method,
    IReadOnlyList<Guid> Raters,
    IReadOnlyList<IReadOnlyList<double>> Subjects,
    DateTimeOffset TakenAt,
    Guid By
);

/// <param name="Horses">How many are meant to be measured.</param>
/// <param name="Times">How often each.</param>
public sealed record BeginStudy(Guid StudyId, string Method, int Horses, int Times, Guid By);

public sealed record CountVisit(Guid StudyId, Guid HorseId, Guid VisitId, Guid By);

public sealed record FinishStudy(Guid StudyId, Guid By);

public sealed record WithdrawStudy(Guid StudyId, string Reason, Guid By);

public sealed record ErasePerson(Guid PersonId, Guid By);

public sealed record ChangeReminderRules(ReminderRules Rules, string Reason, Guid By);

/// <param name="Source">Checked by the caller, who knows the template language; null returns to the shipped words.</param>
public sealed record ChangeLetterTemplate(LetterKind Kind, string Language, string? Source, Guid By);
