using System.Globalization;
using System.IO.Compression;
using BackHistory.Formats.Sheets;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Saddles;
using BackHistory.History.Timeline;
using BackHistory.Language.Timeline;
using BackHistory.Store.Archives;

namespace BackHistory.Application.Archives;

/// <summary>The read models as tables: what a spreadsheet or a statistician asks for first. They follow from the events and are not read
/// back.</summary>
internal sealed class ArchiveTables(ArchiveQueries archive, string practice, ArchiveScope? scope)
{
    // Names are anybody's: a text that a spreadsheet would run goes out as text.

    public async Task Write(ZipArchive zip, Func<ZipArchive, string, CancellationToken, Task<Stream>> open, CancellationToken ct)
    {
        var zone = TimeZoneInfo.Utc;
        await foreach (var known in archive.All<History.Practices.Practice>(practice, ct))
            zone = PracticeClock.Zone(known);
        await Table(
            "horses",
            ["id", "name", "sex", "foaled", "height_mm", "breed", "colour", "owner_id", "yard_id", "last_visit", "gone", "merged_into"],
            archive
                .All<HorseProfile>(practice, ct)
                .Where(h => OfScope(h.Id))
                .Select(h =>
                    Row(
                        h.Id,
                        h.Name,
                        h.Sex,
                        h.Foaled,
                        h.HeightMm,
                        h.Breed,
                        h.Colour,
                        h.OwnerId,
                        h.YardId,
                        h.LastVisit is { } last ? ZoneClock.Day(last, zone) : null,
                        h.Gone,
                        h.MergedInto
                    )
                )
        );
        await Table(
            "visits",
            ["id", "horse_id", "taken_at", "recorded_at", "by", "method", "protocol_version", "withdrawn", "merged_into", "entries"],
            Visits(ct)
                .Select(v =>
                    Row(
                        v.Id,
                        v.HorseId,
                        v.TakenAt,
                        v.RecordedAt,
                        v.By,
                        v.Method,
                        v.ProtocolVersion,
                        v.Withdrawn,
                        v.MergedInto,
                        v.Entries.Count
                    )
                )
        );
        await Table(
            "measures",
            ["horse_id", "visit_id", "taken_at", "measure", "station", "value", "unit", "sd", "why"],
            Visits(ct)
                .SelectMany(v => v.Standing().Select(m => Row(v.HorseId, v.Id, v.TakenAt, m.Key, m.Station, m.Value, m.Unit, m.Sd, m.Why)))
        );
        await Table(
            "timeline",
            ["horse_id", "taken_at", "recorded_at", "kind", "group", "says", "by", "visit_id", "saddle_id", "reminder_id"],
            archive
                .All<TimelineEntry>(practice, ct)
                .Where(t => OfScope(t.HorseId))
                .Select(t =>
                    Row(t.HorseId, t.TakenAt, t.RecordedAt, t.Kind, t.Group, t.InWords(zone), t.By, t.VisitId, t.SaddleId, t.ReminderId)
                )
        );
        await Table(
            "saddles",
            ["id", "label", "tree", "panel", "girthing", "gauge", "owner_id", "withdrawn"],
            Saddles(ct).Select(s => Row(s.Id, s.Label, s.Tree, s.Panel, s.Girthing, s.Gauge, s.OwnerId, s.Withdrawn))
        );
        await Table(
            "saddle-work",
            ["saddle_id", "work_id", "horse_id", "visit_id", "taken_at", "by", "set", "fresh", "withdrawn", "part", "side", "from", "to"],
            Saddles(ct)
                .SelectMany(s =>
                    s.Work.SelectMany(w =>
                        w.Done.DefaultIfEmpty()
                            .Select(a =>
                                Row(
                                    s.Id,
                                    w.WorkId,
                                    w.HorseId,
                                    w.VisitId,
                                    w.TakenAt,
                                    w.By,
                                    w.Set,
                                    w.Fresh,
                                    w.Withdrawn,
                                    a?.Part,
                                    a?.Side,
                                    a?.From,
                                    a?.To
                                )
                            )
                    )
                )
        );
        await Table(
            "reminders",
            ["id", "horse_id", "saddle_id", "rule", "state", "raised_at", "sentence"],
            archive
                .All<Reminder>(practice, ct)
                .Where(r => OfScope(r.HorseId))
                .Select(r => Row(r.Id, r.HorseId, r.SaddleId, r.Rule, r.State, r.RaisedAt, r.Evidence.Sentence))
        );
        if (scope is not null)
            return;
        await Table(
            "months",
            ["month", "event", "times"],
            archive.All<PracticeMonth>(practice, ct).SelectMany(m => m.Events.Select(e => Row(m.Id, e.Event, e.Times)))
        );
        await Table(
            "people",
            ["id", "name", "email", "phone", "address", "role", "language"],
            archive.All<Person>(practice, ct).Select(p => Row(p.Id, p.Name, p.Email, p.Phone, p.Address, p.Role, p.Language))
        );
        await Table("yards", ["id", "name", "town"], archive.All<Yard>(practice, ct).Select(y => Row(y.Id, y.Name, y.Town)));

        async Task Table(string name, string[] header, IAsyncEnumerable<string[]> rows)
        {
            using var memory = new MemoryStream();
            await CsvTable.Write(memory, header, rows);
            await using var stream = await open(zip, $"tables/{name}.csv", ct);
            memory.Position = 0;
            await memory.CopyToAsync(stream, ct);
        }
    }

    private bool OfScope(Guid horse) => scope?.Horses.Contains(horse) ?? true;

    private IAsyncEnumerable<VisitRecord> Visits(CancellationToken ct) =>
        archive.All<VisitRecord>(practice, ct).Where(v => OfScope(v.HorseId));

    private IAsyncEnumerable<Saddle> Saddles(CancellationToken ct) =>
        archive.All<Saddle>(practice, ct).Where(s => scope?.Streams.Contains(s.Id) ?? true);

    private static string[] Row(params ReadOnlySpan<object?> values)
    {
        var row = new string[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            row[i] = values[i] switch
            {
                null => "",
                DateTimeOffset at => at.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFF'Z'", CultureInfo.InvariantCulture),
                DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                bool yes => yes ? "true" : "false",
                IFormattable value => value.ToString(null, CultureInfo.InvariantCulture),
                var other => other.ToString() ?? "",
            };
        }

        return row;
    }
}
