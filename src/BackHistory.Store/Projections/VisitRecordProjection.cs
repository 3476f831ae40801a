using BackHistory.History;
using BackHistory.History.Horses;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.Store.Projections;

/// <summary>Folds a horse's events into one record a visit.</summary>
public sealed partial class VisitRecordProjection : MultiStreamProjection<VisitRecord, Guid>
{
    private readonly MeasuredTracings _measured;

    public VisitRecordProjection()
        : this(new MeasuredTracings()) { }

    /// <param name="measured">What was measured when it was entered.</param>
    public VisitRecordProjection(MeasuredTracings measured)
    {
        _measured = measured;
        Name = nameof(VisitRecord);
        Identity<IVisitEvent>(e => e.VisitId);
        Options.BatchSize = 200;
    }

    public override VisitRecord? Evolve(VisitRecord? snapshot, Guid id, IEvent e) => Fold(snapshot, e, _measured.MeasuresOf);

    /// <summary>
    /// One event further, of those that are about a visit; one that cannot be worked out is set aside in it.
    /// </summary>
    public static VisitRecord? Fold(VisitRecord? visit, IEvent e) => Fold(visit, e, TracingMeasures.Measure);

    /// <summary>The same, with tracings measured as the caller says: what comes out is the same.</summary>
    internal static VisitRecord? Fold(VisitRecord? visit, IEvent e, Measuring measure) =>
        SettingAside.Fold(
            e,
            () => Next(visit, e, measure),
            aside =>
            {
                var id = (e.Data as IVisitEvent)?.VisitId ?? Guid.Empty;
                var known =
                    visit
                    ?? new VisitRecord
                    {
                        Id = id,
                        HorseId = e.StreamId,
                        RecordedAt = e.Timestamp,
                        TakenAt = e.Timestamp,
                    };
                return known with { SetAside = [.. known.SetAside ?? [], aside] };
            }
        );

    private static VisitRecord? Next(VisitRecord? visit, IEvent e, Measuring measure)
    {
        if (e.Data is VisitRecorded recorded)
        {
            return new VisitRecord
            {
                Id = recorded.VisitId,
                HorseId = e.StreamId,
                TakenAt = recorded.TakenAt,
                RecordedAt = e.Timestamp,
                By = recorded.By,
                Method = recorded.Method,
                ProtocolVersion = recorded.ProtocolVersion,
                Conditions = recorded.Conditions,
            };
        }

        return visit is null
            ? null
            : e.Data switch
            {
                VisitCorrected d => visit with { TakenAt = d.VisitTakenAt, By = d.TakenBy, Method = d.Method, Conditions = d.Conditions },
                VisitWithdrawn => visit with { Withdrawn = true },
                VisitMerged d => visit with { Withdrawn = true, MergedInto = d.IntoVisitId },
                ConfirmationAsked => visit with { AwaitsConfirmation = true },
                VisitConfirmed => visit with { AwaitsConfirmation = false },
                CrossSectionTraced d => Trace(
                    visit,
                    d,
                    e.Version,
                    "cross-section",
                    d.Station,
                    measure(() => Tracings.TracingFrom(d), d.Station),
                    d.Calibration
                ),
                ToplineTraced d => Trace(visit, d, e.Version, "topline", null, measure(() => Tracings.TracingFrom(d), null), d.Calibration),
                ReadingTaken d => Enter(visit, d, e.Version, "reading", new MeasureRow(d.Measure, d.Station, d.Value, d.Unit)),
                ConditionScored d => Enter(visit, d, e.Version, "condition", new MeasureRow("condition", null, d.Score, "1")),
                MuscleScored d => Enter(visit, d, e.Version, "muscle", new MeasureRow($"muscle@{d.Site}", null, d.Score, "1")),
                Weighed d => Enter(visit, d, e.Version, "weight", new MeasureRow("weight", null, d.Kilograms, "kg")),
                GirthTaped d => Enter(
                    visit,
                    d,
                    e.Version,
                    "girth",
                    new MeasureRow("weight", null, WeightEstimate.Kilograms(d.GirthMm, d.LengthMm), "kg", Why: "estimate")
                ),
                HeightMeasured d => Enter(
                    visit,
                    d,
                    e.Version,
                    "height",
                    [
                        new MeasureRow("height-withers", null, d.WithersMm, "mm"),
                        .. d.CroupMm is { } croup ? [new MeasureRow("height-croup", null, croup, "mm")] : Array.Empty<MeasureRow>(),
                    ]
                ),
                VisitNoted d => visit with { Entries = visit.Entries.Add(new EntryRecord(d.EntryId, e.Version, "note", null, [], [])) },
                EntryCorrected d => Change(visit, d.EntryId, x => Struck(x, d.Reason) with { ReplacedBy = d.ReplacedBy }),
                EntryWithdrawn d => Change(visit, d.EntryId, x => Struck(x, d.Reason)),
                _ => throw UnknownEventException.In(nameof(VisitRecord), e.Data),
            };
    }

    private static EntryRecord Struck(EntryRecord entry, string reason) => entry with { Stands = false, Because = reason, SetAside = null };

    private static VisitRecord Trace(
        VisitRecord visit,
        IVisitEntryEvent d,
        long version,
        string kind,
        string? station,
        TracingMeasures measured,
        Calibration? calibration
    )
    {
        var entry = new EntryRecord(d.EntryId, version, kind, station, measured.Rows, measured.Flags, Calibration: calibration);
        return Add(visit, entry, measured.Problem);
    }

    private static VisitRecord Enter(
        VisitRecord visit,
        IVisitEntryEvent d,
        long version,
        string kind,
        params IReadOnlyList<MeasureRow> rows
    )
    {
        var sound = TracingMeasures.AreNumbers(rows, []);
        var entry = new EntryRecord(d.EntryId, version, kind, rows[0].Station, sound ? rows : [], []);
        return Add(visit, entry, sound ? null : "It could not be worked out: it comes out as no number.");
    }

    private static VisitRecord Add(VisitRecord visit, EntryRecord entry, string? problem)
    {
        var judged = problem is null ? entry : entry with { Stands = false, Because = problem, SetAside = problem };
        return visit with { Entries = visit.Entries.Add(judged) };
    }

    private static VisitRecord Change(VisitRecord visit, Guid entryId, Func<EntryRecord, EntryRecord> change) =>
        visit with
        {
            Entries = visit.Entries.ConvertAll(x => x.EntryId == entryId ? change(x) : x),
        };
}
