using System.Collections.Immutable;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// A horse's visits as the service knows them: contours drawn, turned, misplaced and traced with a shaking hand, and then measured by the
/// service's own analysis. Beside them the truth: what the same analysis says of the exact contours.
/// </summary>
sealed class WorldVisits
{
    static readonly DateOnly First = new(2021, 3, 1);
    static readonly string[] Hands = ["ann", "bob"];

    internal required VisitRecord[] Records { get; init; }
    internal required double[] Days { get; init; }

    /// <summary>By visit: the mean of its tracings by measure and station.</summary>
    internal required Dictionary<(string Key, string? Station), double>[] Values { get; init; }
    internal required Dictionary<(string Key, string? Station), double>[] Truth { get; init; }

    /// <summary>The visit at which something was done wrong, or the swelling showed; −1 = none.</summary>
    internal required int Odd { get; init; }

    internal DateOnly DayOf(int visit) => First.AddDays((int)Days[visit]);

    internal static WorldVisits Of(WorldHorse horse, WorldNuisance nuisance, double years, Random random)
    {
        // Some visits before the fit, which is set at day 0.
        var days = new List<double> { -Math.Floor(42 + 29 * random.NextDouble()), 0 };
        while (days[^1] < years * 365.25)
            days.Add(days[^1] + Math.Floor(42 + 29 * random.NextDouble()));
        var odd = horse.Fate is WorldFate.Swelling or WorldFate.SidesSwapped or WorldFate.StationAskew or WorldFate.VisitAskew
            ? 3 + random.Next(days.Count - 5)
            : -1;
        var stance = new Stance(nuisance, random);
        var people = Hands.Select(_ => Enumerable.Range(0, 4).Select(_ => 0.6 * Draw.Normal(random)).ToArray()).ToArray();
        var peopleAll = Hands.Select(_ => 0.6 * Draw.Normal(random)).ToArray();
        var read = random.NextDouble() < 0.5;
        var weighed = random.NextDouble() < 0.7;
        var truths = new Dictionary<WorldSection, IReadOnlyList<Measure>>();
        var records = new List<VisitRecord>();
        var values = new List<Dictionary<(string, string?), double>>();
        var truth = new List<Dictionary<(string, string?), double>>();
        for (var v = 0; v < days.Count; v++)
        {
            var day = days[v];
            var person =
                horse.Fate == WorldFate.OpensAndHandsChange && day > horse.Onset + 90 ? 1
                : random.NextDouble() < 0.85 ? 0
                : 1;
            var entries = new List<EntryRecord>();
            var (whole, roll) = (stance.Draw(0.4), nuisance.Lean * Draw.Normal(random));
            if (horse.Fate == WorldFate.VisitAskew && v == odd)
                roll += 5;
            var exact = new Dictionary<(string, string?), double>();
            for (var s = 0; s < 4; s++)
            {
                var station = WorldHorse.Stations[s];
                var exactly = horse.At(day, WorldHorse.Places[s], swollen: false);
                if (!truths.TryGetValue(exactly, out var told))
                    truths[exactly] = told = TracingAnalysis.Analyse(WorldHorse.ExactTracing(exactly)).Measures;
                foreach (var m in told)
                    if (m.Value is { } value)
                        exact[(m.Key, station)] = value;
                var place = WorldHorse.Places[s] + nuisance.Misplaced * Draw.Normal(random);
                // Stance and hands move widths by the same millimetres on flat and on steep backs: less of an angle where it is flat.
                var steep = Math.Pow(
                    Math.Sin((exactly.SlopeLeft + exactly.SlopeRight) / 2 * Math.PI / 180) / Math.Sin(47 * Math.PI / 180),
                    2
                );
                var both = steep * (whole + stance.Draw(0.7) + peopleAll[person] + people[person][s]);
                var stood = horse
                    .At(day, place, horse.Fate == WorldFate.Swelling && v == odd)
                    .Turned(both + steep * stance.Draw(0.5), both + steep * stance.Draw(0.5));
                var lean = roll + nuisance.StationLean * Draw.Normal(random);
                if (horse.Fate == WorldFate.StationAskew && v == odd && s == Math.Max(0, horse.Station))
                    lean += 5;
                for (var t = random.NextDouble() < 0.4 ? 2 : 1; t > 0; t--)
                {
                    var sheet = stood.Turned(steep * stance.Draw(0.5), steep * stance.Draw(0.5));
                    if (horse.Fate == WorldFate.SidesSwapped && v == odd)
                        sheet = Mirrored(sheet);
                    Add("cross-section", station, TracingAnalysis.Analyse(Penned(sheet, lean, random)).Measures);
                }
                if (!read || s is not (WorldHorse.BehindShoulder or 2))
                    continue;
                Read("read-slope-left", exact[("slope-left", station)]);
                Read("read-slope-right", exact[("slope-right", station)]);

                void Read(string key, double value) =>
                    Add("reading", station, [new(key, Math.Round(value + both + stance.Draw(1.2), 1), "deg", null, null)]);
            }
            var drop = horse.Drop(day) + stance.Draw(7);
            Add("topline", null, TracingAnalysis.Analyse(Topline(drop, random)).Measures);
            exact[("topline-drop", null)] = horse.Drop(day);
            exact[("weight", null)] = horse.Weight(day);
            exact[("condition", null)] = horse.Condition(day);
            if (weighed)
                Add("weight", null, [new("weight", Math.Round(horse.Weight(day) * (1 + 0.015 * Draw.Normal(random))), "kg", null, null)]);
            Add(
                "condition",
                null,
                [new("condition", Math.Round(2 * (horse.Condition(day) + 0.35 * Draw.Normal(random))) / 2, "1", null, null)]
            );
            records.Add(
                new()
                {
                    Id = DeterministicId.From("visit", v.ToString(System.Globalization.CultureInfo.InvariantCulture)),
                    TakenAt = new(First.AddDays((int)day).ToDateTime(new TimeOnly(12, 0)), TimeSpan.Zero),
                    By = DeterministicId.From("hands", Hands[person]),
                    Method = "flexible-curve",
                    Entries = [.. entries],
                }
            );
            values.Add(
                entries
                    .SelectMany(e => e.Measures)
                    .Where(m => m.Value is not null)
                    .GroupBy(m => (m.Key, m.Station))
                    .ToDictionary(g => g.Key, g => g.Average(m => m.Value!.Value))
            );
            truth.Add(exact);

            void Add(string kind, string? station, IEnumerable<Measure> measures) =>
                entries.Add(
                    new(
                        DeterministicId.From("entry", entries.Count.ToString(System.Globalization.CultureInfo.InvariantCulture)),
                        0,
                        kind,
                        station,
                        [.. measures.Select(m => new MeasureRow(m.Key, station, m.Value, m.Unit, m.Sd, m.Why))],
                        []
                    )
                );
        }
        return new()
        {
            Records = [.. records],
            Days = [.. days],
            Values = [.. values],
            Truth = [.. truth],
            Odd = odd,
        };
    }

    static WorldSection Mirrored(WorldSection s) =>
        s with
        {
            SlopeLeft = s.SlopeRight,
            SlopeRight = s.SlopeLeft,
            MuscleLeft = s.MuscleRight,
            MuscleRight = s.MuscleLeft,
        };

    /// <summary>Every third point of the contour, turned clockwise and shaken.</summary>
    static Tracing Penned(WorldSection section, double lean, Random random)
    {
        var contour = section.Contour();
        var (cos, sin) = (Math.Cos(lean * Math.PI / 180), Math.Sin(lean * Math.PI / 180));
        var points = ImmutableArray.CreateBuilder<Point>();
        for (var i = 0; i < contour.Count; i += 3)
            points.Add(
                new(
                    Math.Round(contour[i].X * cos + contour[i].Y * sin + 0.8 * Draw.Normal(random), 2),
                    Math.Round(contour[i].Y * cos - contour[i].X * sin + 0.8 * Draw.Normal(random), 2)
                )
            );
        return new()
        {
            Kind = TracingKind.CrossSection,
            Points = points.ToImmutable(),
            Midline = new Point(0, 0),
            Noise = 0.8,
        };
    }

    static Tracing Topline(double drop, Random random)
    {
        Point At(double u) => new(u, u is >= 0 and <= 450 ? -drop * Math.Sin(Math.PI * u / 450) : 0.4 * (u < 0 ? u : u - 450));
        return new()
        {
            Kind = TracingKind.Topline,
            Points = [.. Enumerable.Range(-3, 56).Select(i => At(i * 10.0)).Select(p => new Point(p.X, p.Y + Draw.Normal(random)))],
            Marks = ImmutableDictionary<string, Point>
                .Empty.Add("withers", At(0))
                .Add("behind-shoulder", At(100))
                .Add("mid-back", At(280))
                .Add("last-rib", At(450)),
            Noise = 1,
        };
    }

    /// <summary>Stance, breathing and the hand: normal, or with the tails of Student's t at the same variance.</summary>
    sealed class Stance(WorldNuisance nuisance, Random random)
    {
        internal double Draw(double sd)
        {
            var z = Trends.Draw.Normal(random);
            if (nuisance.StudentDf <= 2)
                return sd * z;
            double chi = 0;
            for (var i = 0; i < (int)nuisance.StudentDf; i++)
                chi += Math.Pow(Trends.Draw.Normal(random), 2);
            return sd * z * Math.Sqrt((nuisance.StudentDf - 2) / chi);
        }
    }
}
