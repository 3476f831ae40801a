namespace BackHistory.Trends.Series;

/// <summary>
/// The observations of one series made ready for the filter: in order of time, centred, tracings of one moment by one pair of hands
/// merged by inverse variance (exact, because they carry the same regressors), offsets that touch a single entry folded into its variance.
/// </summary>
internal sealed class VisitData
{
    internal readonly record struct Entry(double Day, double Y, double Variance, int SharedDay, int Person);

    internal const int Nobody = -1;

    internal required Entry[] Entries { get; init; }
    internal required double Centre { get; init; }
    internal required double VisitVariance { get; init; }
    internal required double PersonVariance { get; init; }

    /// <summary>How many pairs of hands keep an offset of their own in the model.</summary>
    internal required int People { get; init; }
    internal required int DayCount { get; init; }

    /// <summary>Median over the observations of trace and visit variance, the v of method.md section 6.</summary>
    internal required double MedianVariance { get; init; }

    internal double FirstDay => Entries[0].Day;
    internal double LastDay => Entries[^1].Day;
    internal bool HasSharedDays { get; private init; }

    /// <summary>The same series as it stood before the last calendar day with observations; null when nothing is left.</summary>
    internal VisitData? BeforeLastDay()
    {
        var last = Days.CalendarDay(LastDay);
        var kept = Entries.Length;
        while (kept > 0 && Days.CalendarDay(Entries[kept - 1].Day) >= last)
            kept--;
        return kept == 0
            ? null
            : new()
            {
                Entries = Entries[..kept],
                Centre = Centre,
                VisitVariance = VisitVariance,
                PersonVariance = PersonVariance,
                People = People,
                DayCount = DayCount - 1,
                HasSharedDays = HasSharedDays,
                MedianVariance = MedianVariance,
            };
    }

    internal static VisitData From(IReadOnlyList<Observation> observations, NoiseLayers noise)
    {
        Check(observations, noise);
        var ordered = observations.ToArray();
        SortByDay(ordered);
        var visitVariance = noise.VisitSd * noise.VisitSd;
        var personVariance = noise.PersonSd * noise.PersonSd;
        var centre = ordered[ordered.Length / 2].Value;

        var raw = new Entry[ordered.Length];
        var names = new List<string>();
        for (var i = 0; i < ordered.Length; i++)
        {
            var o = ordered[i];
            var person = personVariance > 0 && o.By is not null ? IndexOf(names, o.By) : Nobody;
            var variance = o.Sd * o.Sd + (person == Nobody ? personVariance : 0);
            raw[i] = new(o.Day, o.Value - centre, variance, Nobody, person);
        }
        var entries = Merge(raw);
        var people = KeepRepeatingPeople(entries, names.Count, personVariance);
        if (people < names.Count)
            entries = Merge(entries);
        var (days, shared) = ShareDays(entries, visitVariance);
        return new()
        {
            Entries = entries,
            Centre = centre,
            VisitVariance = visitVariance,
            PersonVariance = personVariance,
            People = people,
            DayCount = days,
            HasSharedDays = shared,
            MedianVariance = Median(Array.ConvertAll(ordered, o => o.Sd * o.Sd)) + visitVariance,
        };
    }

    static void Check(IReadOnlyList<Observation> observations, NoiseLayers noise)
    {
        if (observations.Count == 0)
            throw new ArgumentException("A series needs at least one observation.", nameof(observations));
        if (!(double.IsFinite(noise.VisitSd) && noise.VisitSd >= 0 && double.IsFinite(noise.PersonSd) && noise.PersonSd >= 0))
            throw new ArgumentException("Standard deviations of visit and person are finite and not negative.", nameof(noise));
        foreach (var o in observations)
        {
            if (!double.IsFinite(o.Day) || !double.IsFinite(o.Value))
                throw new ArgumentException("Day and value of an observation are finite numbers.", nameof(observations));
            if (!(double.IsFinite(o.Sd) && o.Sd > 0))
                throw new ArgumentException("The standard deviation of an observation is finite and above zero.", nameof(observations));
        }
    }

    /// <summary>By time, and within a moment by who and what, so that the order in which a series comes in changes no digit of the
    /// answer.</summary>
    static void SortByDay(Observation[] observations)
    {
        var sorted = true;
        for (var i = 1; i < observations.Length && sorted; i++)
            sorted = Compare(observations[i - 1], observations[i]) <= 0;
        if (!sorted)
            Array.Sort(observations, Compare);

        static int Compare(Observation a, Observation b)
        {
            var order = a.Day.CompareTo(b.Day);
            if (order == 0)
                order = string.CompareOrdinal(a.By, b.By);
            if (order == 0)
                order = a.Value.CompareTo(b.Value);
            return order == 0 ? a.Sd.CompareTo(b.Sd) : order;
        }
    }

    static int IndexOf(List<string> names, string name)
    {
        var i = names.FindIndex(n => string.Equals(n, name, StringComparison.Ordinal));
        if (i >= 0)
            return i;
        names.Add(name);
        return names.Count - 1;
    }

    /// <summary>Entries of one moment and one person become their weighted mean.</summary>
    static Entry[] Merge(Entry[] entries)
    {
        var merged = new Entry[entries.Length];
        int count = 0,
            moment = 0;
        foreach (var e in entries)
        {
            if (count > 0 && merged[count - 1].Day < e.Day)
                moment = count;
            var same = moment;
            while (same < count && merged[same].Person != e.Person)
                same++;
            if (same == count)
            {
                merged[count++] = e;
                continue;
            }
            var other = merged[same];
            var total = other.Variance + e.Variance;
            merged[same] = other with
            {
                Y = (other.Y * e.Variance + e.Y * other.Variance) / total,
                Variance = other.Variance * (e.Variance / total),
            };
        }
        return count == merged.Length ? merged : merged[..count];
    }

    /// <summary>Hands that appear once are no different from noise of that one entry; the others are renumbered.</summary>
    static int KeepRepeatingPeople(Entry[] entries, int named, double personVariance)
    {
        if (named == 0)
            return 0;
        var counts = new int[named];
        foreach (var e in entries)
            if (e.Person != Nobody)
                counts[e.Person]++;
        var column = new int[named];
        var people = 0;
        for (var p = 0; p < named; p++)
            column[p] = counts[p] > 1 ? people++ : Nobody;
        for (var i = 0; i < entries.Length; i++)
        {
            if (entries[i].Person == Nobody)
                continue;
            var kept = column[entries[i].Person];
            entries[i] = entries[i] with { Person = kept, Variance = entries[i].Variance + (kept == Nobody ? personVariance : 0) };
        }
        return people;
    }

    static (int Days, bool Shared) ShareDays(Entry[] entries, double visitVariance)
    {
        var days = 0;
        var anyShared = false;
        for (var i = 0; i < entries.Length; )
        {
            var end = i + 1;
            while (end < entries.Length && Days.CalendarDay(entries[end].Day) <= Days.CalendarDay(entries[i].Day))
                end++;
            var alone = end == i + 1;
            anyShared |= !alone && visitVariance > 0;
            for (var j = i; j < end; j++)
            {
                entries[j] = alone
                    ? entries[j] with
                    {
                        Variance = entries[j].Variance + visitVariance,
                    }
                    : entries[j] with
                    {
                        SharedDay = visitVariance > 0 ? days : Nobody,
                    };
            }
            days++;
            i = end;
        }
        return (days, anyShared);
    }

    static double Median(double[] values)
    {
        Array.Sort(values);
        var half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}
