using System.Text.Json;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;

namespace BackHistory.Service.Verbs;

/// <summary>One horse as a line of <c>decide</c> or <c>learn</c> tells it, in the form in which the service knows its horses.</summary>
/// <param name="Id">Given back as it came: text or a number.</param>
/// <param name="Fit">The day on which the saddle was set; null = it never was.</param>
/// <param name="At">The day decided on; null = that of the last visit.</param>
/// <param name="Practice">The rules, with what was learned.</param>
/// <param name="Visits">In the order of their days; of one day in the order given.</param>
internal sealed record HorseLine(
    JsonElement Id,
    DateOnly? Fit,
    DateOnly? At,
    Practice Practice,
    HorseProfile Horse,
    IReadOnlyList<VisitRecord> Visits
);
