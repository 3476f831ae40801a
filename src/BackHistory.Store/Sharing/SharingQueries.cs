using BackHistory.History.Sharing;
using Marten;

namespace BackHistory.Store.Sharing;

/// <summary>What is asked about sharing.</summary>
public sealed class SharingQueries(IDocumentStore store)
{
    /// <summary>
    /// Null when nothing of this horse was ever shared. Of a registration that was merged into another, what holds there: whoever was
    /// given sight of it keeps it, and <see cref="HorseSharing.HorseId"/> says of which horse.
    /// </summary>
    public async Task<HorseSharing?> Load(string practice, Guid horseId, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var found = await session.LoadAsync<HorseSharing>(HorseSharing.IdOf(horseId), ct);
        var seen = new HashSet<Guid> { horseId };
        for (var next = found; next?.MergedInto is { } into && seen.Add(into); )
        {
            next = await session.LoadAsync<HorseSharing>(HorseSharing.IdOf(into), ct);
            // A merge that was interrupted half-way holds where it held before.
            if (next?.Merged.Contains(horseId) == true)
                found = next;
        }

        return found;
    }

    /// <summary>The links that this person made and that still stand.</summary>
    public async Task<IReadOnlyList<(Guid HorseId, Guid LinkId)>> LinksMadeBy(string practice, Guid person, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        return
        [
            .. (await session.Query<HorseSharing>().Where(s => s.MergedInto == null).ToListAsync(ct)).SelectMany(s =>
                s.Links.Values.Where(l => l.MadeBy == person && l.RevokedAt is null).Select(l => (s.HorseId, l.Id))
            ),
        ];
    }

    /// <summary>Newest first, with those that were written about its second registrations.</summary>
    public async Task<IReadOnlyList<Comment>> Comments(string practice, Guid horseId, int most, CancellationToken ct)
    {
        await using var session = store.QuerySession(practice);
        var merged = (await session.LoadAsync<HorseSharing>(HorseSharing.IdOf(horseId), ct))?.Merged ?? [];
        Guid[] horses = [horseId, .. merged];
        return await session
            .Query<Comment>()
            .Where(c => c.HorseId.IsOneOf(horses))
            .OrderByDescending(c => c.At)
            .ThenBy(c => c.Id)
            .Take(most)
            .ToListAsync(ct);
    }

    /// <summary>What was written about any of these horses since a moment, newest first; about second registrations it stands at those
    /// pages.</summary>
    public async Task<IReadOnlyList<Comment>> CommentsSince(
        string practice,
        IReadOnlyList<Guid> horses,
        DateTimeOffset since,
        CancellationToken ct
    )
    {
        Guid[] about = [.. horses];
        await using var session = store.QuerySession(practice);
        return await session
            .Query<Comment>()
            .Where(c => c.HorseId.IsOneOf(about) && c.At >= since)
            .OrderByDescending(c => c.At)
            .ThenBy(c => c.Id)
            .ToListAsync(ct);
    }
}
