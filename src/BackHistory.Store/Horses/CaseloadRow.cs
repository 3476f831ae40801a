using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.Store.Horses;

/// <summary>One row a horse.</summary>
public sealed record CaseloadRow(HorseProfile Horse, Assessment? Assessment, Person? Owner, Yard? Yard);
