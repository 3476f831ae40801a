using BackHistory.History.Files;

namespace BackHistory.History.Horses;

/// <summary>Decisions about photographs and documents of a horse.</summary>
public static partial class HorseDecider
{
    public static Decided Decide(Horse? horse, AttachFile c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (horse!.Noted.ContainsKey(c.FileId))
            return FileRefusals.FileExists;
        if (Plausible.Happened(c.TakenAt, now) is { } never)
            return never;
        if (c.Shows.Count > 50)
            return FileRefusals.TooManyPeople;
        if (c.VisitId is { } id && (!horse.Visits.TryGetValue(id, out var visit) || visit.Withdrawn))
            return HorseRefusals.NoSuchVisit;
        var file = new AttachedFile(c.FileId, c.Kind, c.Bytes.Hash, c.Bytes.MediaType, c.Bytes.Bytes.Length, c.Shows);
        return Decided.Yes(new HorseFileAttached(file, c.VisitId, c.TakenAt, c.By)).With(c.Bytes);
    }

    public static Decided Decide(Horse? horse, RemoveFile c, DateTimeOffset now)
    {
        if (HorseRefusals.OfHorse(horse) is { } gone)
            return gone;
        if (!horse!.Noted.TryGetValue(c.FileId, out var noted) || !noted.Stands || noted.What != NotedAs.File)
            return FileRefusals.NoSuchFile;
        return HorseRefusals.OfReason(c.Reason) is { } silent
            ? silent
            : Decided.Yes(new HorseFileRemoved(c.FileId, c.Reason.Trim(), now, c.By));
    }
}
