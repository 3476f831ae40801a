using BackHistory.Shape;
using BackHistory.Shape.Analysis;

namespace BackHistory.Benchmarks.Trends.Worlds;

/// <summary>
/// A horse whose back is known on every day: contours at any place along it, the topline's drop, weight and condition. How far a change
/// goes is measured on its own contour, so that "two limits" is two limits of this horse.
/// </summary>
sealed class WorldHorse
{
    internal static readonly string[] Stations = ["shoulder", "behind-shoulder", "mid-back", "last-rib"];

    /// <summary>Millimetres behind the shoulder.</summary>
    internal static readonly double[] Places = [0, 102, 250, 400];

    internal const int Shoulder = 0,
        BehindShoulder = 1;

    const double YearDays = 365.25;

    readonly WorldSection[] _sections;
    readonly double[] _sizes = new double[4];
    readonly double _season,
        _seasonPeak,
        _weight,
        _condition,
        _drop,
        _days;

    internal WorldFate Fate { get; }
    internal WorldFamily Family { get; }
    internal bool Left { get; }

    /// <summary>The station of a change at one place; −1 = all along.</summary>
    internal int Station { get; }

    /// <summary>The day on which the change begins.</summary>
    internal double Onset { get; }

    /// <summary>The day on which it is complete; of a steady horse never.</summary>
    internal double Complete => HasChange ? Onset + _days : double.PositiveInfinity;

    internal bool HasChange =>
        Fate
            is not (
                WorldFate.Steady
                or WorldFate.SteadyWithSeason
                or WorldFate.Swelling
                or WorldFate.SidesSwapped
                or WorldFate.StationAskew
                or WorldFate.VisitAskew
            );

    internal WorldHorse(WorldFate fate, WorldFamily family, Random random)
    {
        (Fate, Family) = (fate, family);
        _sections = Backs(family, random);
        Left = random.NextDouble() < 0.5;
        Station = fate == WorldFate.LosesOneHalf && random.NextDouble() < 0.5 ? -1 : random.Next(3);
        Onset = 30 + 90 * random.NextDouble();
        var slow = YearDays * (1.5 + random.NextDouble());
        _season = fate == WorldFate.SteadyWithSeason ? 0.4 + 0.6 * random.NextDouble() : 0;
        _seasonPeak = YearDays * random.NextDouble();
        _weight = 420 + 220 * random.NextDouble();
        _condition = 4.5 + 2 * random.NextDouble();
        _drop = (family == WorldFamily.Old ? 55 : 30) + 15 * random.NextDouble();
        _days = fate switch
        {
            WorldFate.LosesOneHalf => 91,
            WorldFate.WholeBackWidens or WorldFate.Fattens => slow,
            WorldFate.LosesAndRecovers => 122,
            WorldFate.ToplineSinks => 2 * YearDays,
            WorldFate.Grows => YearDays,
            _ => 183,
        };
        for (var s = 0; s < 4; s++)
            _sizes[s] = SizeAt(s);
    }

    /// <summary>How far the change has gone at most at each station: degrees of slope or millimetres of muscle or fat.</summary>
    double SizeAt(int station) =>
        Fate switch
        {
            WorldFate.ShoulderOpens or WorldFate.OpensAndHandsChange or WorldFate.OneStation => Sized(station, "width@100", 24, Opened),
            WorldFate.WholeBackWidens or WorldFate.Grows => Sized(station, "width@100", 24, Opened),
            WorldFate.Fattens => Sized(station, "width@100", 24, Fattened),
            WorldFate.LosesOneHalf or WorldFate.LosesAndRecovers => Sized(
                station,
                Left ? "half-area-left@100" : "half-area-right@100",
                -0.15,
                Left ? LostLeft : LostRight
            ),
            _ => 0,
        };

    static WorldSection Opened(WorldSection s, double size) => s.Turned(-size, -size);

    static WorldSection Fattened(WorldSection s, double size) => s with { Fat = s.Fat + size };

    static WorldSection LostLeft(WorldSection s, double size) => s.WithMuscle(-size, 0);

    static WorldSection LostRight(WorldSection s, double size) => s.WithMuscle(0, -size);

    /// <summary>Halving to the size at which the exact contour has changed so far.</summary>
    double Sized(int station, string key, double change, Func<WorldSection, double, WorldSection> changed)
    {
        var before = Exact(_sections[station], key);
        var goal = Math.Abs(change) < 1 ? before * change : change;
        double low = 0,
            high = 30;
        for (var i = 0; i < 12; i++)
        {
            var middle = (low + high) / 2;
            if (Math.Abs(Exact(changed(_sections[station], middle), key) - before) < Math.Abs(goal))
                low = middle;
            else
                high = middle;
        }
        return (low + high) / 2;
    }

    static double Exact(WorldSection section, string key) =>
        TracingAnalysis.Analyse(ExactTracing(section)).Measures.First(m => m.Key == key).Value ?? double.NaN;

    internal static Tracing ExactTracing(WorldSection section) =>
        new()
        {
            Kind = TracingKind.CrossSection,
            Points = [.. section.Contour()],
            Midline = new Point(0, 0),
            Noise = 0,
        };

    /// <summary>The contour on a day at a place along the back.</summary>
    /// <param name="swollen">It is the visit at which a swelling shows.</param>
    internal WorldSection At(double day, double place, bool swollen)
    {
        var next = 1;
        while (next < 3 && Places[next] < place)
            next++;
        var part = Math.Clamp((place - Places[next - 1]) / (Places[next] - Places[next - 1]), -0.3, 1.3);
        return Of(day, next - 1, swollen).Towards(Of(day, next, swollen), part);
    }

    WorldSection Of(double day, int station, bool swollen)
    {
        var part = Gone(day);
        var opened = -_season * Math.Cos(2 * Math.PI * (day - _seasonPeak) / YearDays);
        var section = _sections[station].Turned(opened, opened);
        if (swollen && station == Station)
            section = Left ? section with { SwellLeft = 15 } : section with { SwellRight = 15 };
        return Fate switch
        {
            WorldFate.ShoulderOpens or WorldFate.OpensAndHandsChange => Opened(
                section,
                part
                    * _sizes[station]
                    * (
                        station == Shoulder ? 1
                        : station == BehindShoulder ? 0.5
                        : 0
                    )
            ),
            WorldFate.OneStation => Opened(section, station == Station ? part * _sizes[station] : 0),
            WorldFate.WholeBackWidens or WorldFate.Grows => Opened(section, part * _sizes[station]),
            WorldFate.Fattens => Fattened(section, part * _sizes[station]),
            WorldFate.LosesAndRecovers => section.WithMuscle(-part * _sizes[station], -part * _sizes[station]),
            WorldFate.LosesOneHalf => (Left ? LostLeft(section, Lost(station)) : LostRight(section, Lost(station))),
            _ => section,
        };

        double Lost(int at) =>
            part
            * _sizes[at]
            * (
                Station < 0 || Station == at ? 1
                : Math.Abs(Station - at) == 1 ? 0.3
                : 0
            );
    }

    double Gone(double day) =>
        Fate == WorldFate.LosesAndRecovers && day > Onset + _days ? Math.Max(0, 1 - (day - Onset - _days) / 183)
        : HasChange ? Math.Clamp((day - Onset) / _days, 0, 1)
        : 0;

    internal double Drop(double day) => _drop + (Fate == WorldFate.ToplineSinks ? 25 * Gone(day) : 0);

    internal double Weight(double day) =>
        _weight
        * (
            1
            + (
                Fate is WorldFate.Fattens or WorldFate.Grows ? 0.1 * Gone(day)
                : Fate == WorldFate.LosesAndRecovers ? -0.05 * Gone(day)
                : 0
            )
            + 0.02 * _season * Math.Cos(2 * Math.PI * (day - _seasonPeak) / YearDays)
        );

    internal double Condition(double day) =>
        _condition
        + (Fate == WorldFate.Fattens ? 1.6 * Gone(day) : 0)
        + 0.2 * _season * Math.Cos(2 * Math.PI * (day - _seasonPeak) / YearDays);

    static WorldSection[] Backs(WorldFamily family, Random random)
    {
        var (slopes, ridge, power, lower, from, muscle) = family switch
        {
            WorldFamily.Round => ((double[])[41, 38, 34, 30], 70.0, 1.9, 74.0, 150.0, 2.0),
            WorldFamily.Flat => ([35, 32, 28, 26], 60, 1.7, 72, 160, 0),
            WorldFamily.Narrow => ([58, 55, 50, 45], 26, 1.4, 80, 170, -1),
            WorldFamily.MuttonWithered => ([33, 37, 35, 31], 80, 2.0, 74, 140, 3),
            WorldFamily.Young => ([49, 46, 44, 41], 34, 1.5, 78, 150, -1),
            WorldFamily.Old => ([55, 52, 46, 39], 30, 1.5, 78, 150, -7),
            _ => ([51, 47, 42, 37], 40, 1.6, 78, 150, 0),
        };
        var (all, wide) = (2.5 * Draw.Normal(random), Math.Exp(0.12 * Draw.Normal(random)));
        var uneven = (family == WorldFamily.Asymmetric ? 3.0 : 0.8) * Draw.Normal(random);
        return
        [
            .. slopes.Select(slope =>
            {
                var (own, apart) = (slope + all + 1.2 * Draw.Normal(random), uneven + 0.5 * Draw.Normal(random));
                return new WorldSection(
                    own - apart / 2,
                    own + apart / 2,
                    ridge * wide * Math.Exp(0.05 * Draw.Normal(random)),
                    power,
                    lower,
                    from,
                    muscle - 0.5 * apart,
                    muscle + 0.5 * apart
                );
            }),
        ];
    }
}
