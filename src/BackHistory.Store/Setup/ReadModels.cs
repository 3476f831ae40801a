using BackHistory.History.Horses;
using BackHistory.History.Notes;
using BackHistory.History.Practices;
using BackHistory.History.Profiles;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;
using BackHistory.History.Timeline;
using BackHistory.Store.Accounts;
using BackHistory.Store.Archives;
using BackHistory.Store.Audit;
using BackHistory.Store.Erasing;
using BackHistory.Store.Imports;
using BackHistory.Store.Practices;
using BackHistory.Store.Projections;
using BackHistory.Store.Rebuilds;
using BackHistory.Store.Reminders;
using BackHistory.Store.Reminders.DryRuns;
using BackHistory.Store.Reminders.Planning;
using BackHistory.Store.Sharing;
using JasperFx.Events.Projections;
using Marten;
using Marten.Schema;
using Marten.Schema.Indexing.Unique;

namespace BackHistory.Store.Setup;

/// <summary>What is kept up from the events, and when: in the same transaction where a decision needs it, behind it where people
/// read.</summary>
internal static class ReadModels
{
    public static void Add(StoreOptions options, MeasuredTracings measured)
    {
        options.Projections.Add<HorseStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<SaddleStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<PracticeStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<ReminderStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<DigestStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<HorseSharingStream>(ProjectionLifecycle.Inline);
        options.Projections.Add<LetterProjection>(ProjectionLifecycle.Inline);

        options.Projections.Add(new VisitRecordProjection(measured), ProjectionLifecycle.Async);
        options.Projections.Add<HorseProfileProjection>(ProjectionLifecycle.Async);
        options.Projections.Add<TimelineProjection>(ProjectionLifecycle.Async);
        options.Projections.Add<PracticeMonthProjection>(ProjectionLifecycle.Async);

        // Columns, not expressions over the JSON: under isolation PostgreSQL looks into a row only after it knows whose it is, and an
        // index over such an expression would not be used.
        // Stored names never change: this is what digests were called when the first store was made.
        options.Schema.For<Digest>().DocumentAlias("bulletin");
        options.Schema.For<Reminder>().Duplicate(r => r.HorseId).Duplicate(r => r.State);
        options.Schema.For<Letter>().Duplicate(l => l.State).Duplicate(l => l.ReminderId);
        options
            .Schema.For<VisitRecord>()
            .Duplicate(v => v.HorseId)
            .Duplicate(v => v.NotWhole)
            .Index(v => v.NotWhole, i => OfFew(i, "mt_doc_visitrecord_idx_practice_not_whole", "not_whole"))
            .Duplicate(v => v.AwaitsConfirmation)
            .Index(v => v.AwaitsConfirmation, i => OfFew(i, "mt_doc_visitrecord_idx_practice_awaits", "awaits_confirmation"));
        options
            .Schema.For<HorseProfile>()
            .Duplicate(h => h.Gone)
            .Duplicate(h => h.Name)
            .Duplicate(h => h.Head)
            .Duplicate(h => h.OwnerId)
            .Duplicate(h => h.YardId)
            .Duplicate(h => h.LastVisitOn)
            .Duplicate(h => h.HasReminder)
            .Duplicate(h => h.NotWhole)
            .Index(h => h.NotWhole, i => OfFew(i, "mt_doc_horseprofile_idx_practice_not_whole", "not_whole"))
            .Index(h => h.Name, i => (i.Name, i.Collation) = ("mt_doc_horseprofile_idx_name_in_order", NameOrder.Collation))
            .Index(h => new { h.LastVisitOn, h.Id })
            .Index(h => h.Gone, i => (i.Name, i.TenancyScope) = ("mt_doc_horseprofile_idx_practice_gone", TenancyScope.PerTenant));
        options
            .Schema.For<Assessment>()
            .Duplicate(a => a.Rank)
            .Duplicate(a => a.Urgency)
            .Duplicate(a => a.BasedOn)
            .Duplicate(a => a.ReassessOn)
            .Duplicate(a => a.RulesVersion)
            .Duplicate(a => a.ReminderRulesVersion)
            .Duplicate(a => a.HoldUntil)
            .Duplicate(a => a.NextCheckDue)
            .Index(a => new { a.Urgency, a.Id })
            .Index(a => a.Rank, i => (i.Name, i.TenancyScope) = ("mt_doc_assessment_idx_practice_rank", TenancyScope.PerTenant));
        options.Schema.For<TimelineEntry>().Duplicate(t => t.HorseId);
        options.Schema.For<Comment>().Duplicate(c => c.HorseId);
        options.Schema.For<AuditNote>().Duplicate(n => n.HorseId).Duplicate(n => n.At).Index(n => new { n.At, n.Id });
        options.Schema.For<Account>().SingleTenanted().Index(a => a.NormalizedEmail, i => i.IsUnique = true);
        options.Schema.For<AccessKey>().SingleTenanted().Duplicate(k => k.AccountId);
        options.Schema.For<SignInSession>().SingleTenanted().Duplicate(s => s.AccountId);
        options.Schema.For<Invitation>().SingleTenanted().Duplicate(i => i.Practice);
        options.Schema.For<KnownPractice>().SingleTenanted();
        options.Schema.For<StoreRelease>().SingleTenanted();
        options.Schema.For<SetAsideTried>().SingleTenanted();
        options.Schema.For<LetterContent>();
        options.Schema.For<LetterAttempts>();
        options.Schema.For<DryRun>();
        options.Schema.For<CalendarFeed>();
        options.Schema.For<EvaluationRun>();
        options.Schema.For<CommandReceipt>();
        options.Schema.For<Note>();
        options.Schema.For<ErasureRemainder>();
        options.Schema.For<Import>();
        options.Schema.For<TakenArchive>();
        options.Schema.For<RebuildRun>();
        options.Schema.For<Webhook>();
        options.Schema.For<ImportLine>().Duplicate(l => l.ImportId).Duplicate(l => l.Line);
        options.Schema.For<Person>();
        options.Schema.For<Yard>();
        options.Schema.For<PracticeContact>();
        options.Schema.For<HorseIdentity>();
        options.Storage.ExtendedSchemaObjects.Add(FileTable.Make(options.DatabaseSchemaName));
    }

    /// <summary>An index over the few rows of a practice of which something holds.</summary>
    private static void OfFew(ComputedIndex index, string name, string column) =>
        (index.Name, index.TenancyScope, index.Predicate) = (name, TenancyScope.PerTenant, column);
}
