using BackHistory.Shape;
using JasperFx.Events;
using Marten.Events.Projections;

namespace BackHistory.History.Horses;

/// <summary>Folds a horse's events into one record a visit.</summary>
public sealed partial class VisitRecordProjection : MultiStreamProjection<VisitRecord, Guid>
{
    public VisitRecordProjection()
    {
        Name = nameof(VisitRecord);
        Identity<IVisitEvent>(e => e.VisitId);
        Options.BatchSize = 200;
    }

    public override VisitRecord? Evolve(VisitRecord? snapshot, Guid id, IEvent e) => Fold(snapshot, e);

    /// <summary>One event further. Events that are not about a visit leave it as it is.</summary>
    public static VisitRecord? Fold(VisitRecord? visit, IEvent e)
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

        return visit is null ? null : e.Data switch
        {
            VisitCorrected d => visit with { TakenAt = d.VisitTakenAt, By = d.TakenBy, Method = d.Method, Conditions = d.Conditions },
            VisitWithdrawn => visit with { Withdrawn = true },
            VisitMerged d => visit with { Withdrawn = true, MergedInto = d.IntoVisitId },
            ConfirmationAsked => visit with { AwaitsConfirmation = true },
            VisitConfirmed => visit with { AwaitsConfirmation = false },
            CrossSectionTraced d => Trace(visit, d.EntryId, e.Version, Tracings.Of(d), d.Calibration),
            ToplineTraced d => Trace(visit, d.EntryId, e.Version, Tracings.Of(d), d.Calibration),
            ReadingTaken d => Enter(visit, d, e.Version, "reading", new MeasureRow(d.Measure, d.Station, d.Value, d.Unit)),
            ConditionScored d => Enter(visit, d, e.Version, "condition", new MeasureRow("condition", null, d.Score, "1")),
            MuscleScored d => Enter(visit, d, e.Version, "muscle", new MeasureRow($"muscle@{d.Site}", null, d.Score, "1")),
            Weighed d => Enter(visit, d, e.Version, "weight", new MeasureRow("weight", null, d.Kilograms, "kg")),
            GirthTaped d => Enter(
                visit, d, e.Version, "girth", new MeasureRow("weight", null, WeightEstimate.Kilograms(d.GirthMm, d.LengthMm), "kg", Why: "estimate")),
            HeightMeasured d => Enter(visit, d, e.Version, "height", [new MeasureRow("height-withers", null, d.WithersMm, "mm"), .. d.CroupMm is { } croup ? [new MeasureRow("height-croup", null, croup, "mm")] : Array.Empty<MeasureRow>()]),
            VisitNoted d => visit with { Entries = visit.Entries.Add(new EntryRecord(d.EntryId, e.Version, "note", null, [], [])) },
            EntryCorrected d => Change(visit, d.EntryId, x => x with { Stands = false, ReplacedBy = d.ReplacedBy, Because = d.Reason }),
            EntryWithdrawn d => Change(visit, d.EntryId, x => x with { Stands = false, Because = d.Reason }),
            _ => visit,
        };
    }

    private static VisitRecord Trace(VisitRecord visit, Guid entryId, long version, Tracing tracing, Calibration? calibration)
    {
        var answer = TracingAnalysis.Analyse(tracing);
        var kind = tracing.Kind == TracingKind.CrossSection ? "cross-section" : "topline";
        var rows = answer.Measures.Select(m => new MeasureRow(m.Key, tracing.Station, m.Value, m.Unit, m.Sd, m.Why)).ToList();
        // Accepted under an earlier rule and refused by today's: kept and shown with its reason, never dropped.
        var because = answer.Refused?.Message;
        return visit with
        {
            Entries = visit.Entries.Add(new EntryRecord(entryId, version, kind, tracing.Station, rows, answer.Flags, Stands: because is null, Because: because, Calibration: calibration)),
        };
    }

    private static VisitRecord Enter(VisitRecord visit, IVisitEntryEvent d, long version, string kind, params IReadOnlyList<MeasureRow> rows) =>
        visit with { Entries = visit.Entries.Add(new EntryRecord(d.EntryId, version, kind, rows[0].Station, rows, [])) };

    private static VisitRecord Change(VisitRecord visit, Guid entryId, Func<EntryRecord, EntryRecord> change) =>
        visit with { Entries = visit.Entries.ConvertAll(x => x.EntryId == entryId ? change(x) : x) };
}
