using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Trends;

/// <summary>
/// The volume of each half of the lofted back at every visit that traced two stations or more, as numbers of that visit. They follow from
/// its tracings and are worked out where they are looked at: no decision rests on them.
/// </summary>
public static class HalfVolumes
{
    public static async Task<HorseRecord> AddTo(HorseRecord horse, HorseQueries horses, string practice, CancellationToken ct)
    {
        var visits = new List<VisitRecord>(horse.Visits.Count);
        foreach (var visit in horse.Visits)
        {
            if (visit.Withdrawn || visit.Entries.Count(e => e.Stands && e.Kind == "cross-section") < 2)
            {
                visits.Add(visit);
                continue;
            }

            var back = await BackOfVisit.Load(horses, practice, horse.Profile.Id, visit, horse.Practice.Stations, ct);
            var rows = (back.Surface?.HalfVolumes() ?? [])
                .Where(m => m.Value is not null)
                .Select(m => new MeasureRow(m.Key, null, m.Value, m.Unit, m.Sd))
                .ToList();
            visits.Add(
                rows.Count == 0
                    ? visit
                    : visit with
                    {
                        Entries =
                        [
                            .. visit.Entries,
                            new EntryRecord(DeterministicId.From("surface", visit.Id.ToString()), 0, "surface", null, rows, []),
                        ],
                    }
            );
        }

        return horse with
        {
            Visits = visits,
        };
    }
}
