using BackHistory.History.Horses;
using BackHistory.Shape;

namespace BackHistory.Service.Visits;

public sealed record EnteredEntry(Guid EntryId, string? Station, IReadOnlyList<Measure> Measures, IReadOnlyList<QualityFlag> Flags)
{
    public static EnteredEntry Of(VisitEntry entry)
    {
        if (entry is not TracingEntry t)
            return new EnteredEntry(entry.EntryId, (entry as ReadingEntry)?.Station, [], []);
        var answer = t.Fit.Answer;
        return new EnteredEntry(t.EntryId, t.Tracing.Station, answer.Measures, answer.Flags);
    }
}
