using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Store;

namespace BackHistory.Application.Reminders;

/// <summary>The fitter whom a booking names, where it names one.</summary>
public static class FitterNamed
{
    public static readonly Refused NoSuchFitter = new("no-such-fitter", "There is no such fitter in this practice.", Place: "fitterId");

    public static async Task<bool> IsKnown(Held held, Guid? fitter) =>
        fitter is not { } id || await held.Document<Person>(id) is { Role: PersonRole.Fitter };
}
