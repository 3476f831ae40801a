using BackHistory.Application.Letters;
using BackHistory.Application.Trends;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Service.Jobs;
using BackHistory.Service.Reminders;
using BackHistory.Service.Sharing;
using BackHistory.Store;
using BackHistory.Store.Archives;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Testing;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.Logging.Abstractions;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>A practice's letters without the service around them, at a time that the test sets.</summary>
internal sealed class PracticePost(PracticeStore store, FixedTime time, MailSettings mail)
{
    public const string Practice = "practice";

    private readonly Settings _settings = new("http://127.0.0.1:0", ".", null, mail, Demo: false, PublicUrl: null);

    public PracticeQueries Practices => new(store.Store);

    public FirstLetters First => new(store.Reminders, Practices);

    /// <summary>Jobs do nothing for a practice that is not known to the service.</summary>
    public Task Known() => new KnownPractices(store.Whole).Add(new KnownPractice(Practice, Practice, "Etc/UTC"), CancellationToken.None);

    /// <summary>As a process that was just started has it: nothing is remembered but what is written down.</summary>
    public LetterJob Job() =>
        new(
            new KnownPractices(store.Whole),
            new LetterPost(
                store.Reminders,
                Practices,
                Writer(),
                First,
                new LetterRecord(store.Commands, time),
                store.Get<ArchiveIntake>(),
                new MailSender(_settings),
                new AdvisoryLocks(store.Database),
                time,
                NullLogger<LetterPost>.Instance
            )
        );

    public LetterWriter Writer()
    {
        var (horses, reminders) = (store.Horses, store.Reminders);
        var seal = new EphemeralDataProtectionProvider();
        var links = new AnswerLinks(seal, _settings, new LetterReaders(Practices, reminders), new SharedLinks(seal, _settings));
        var data = new HorseData(horses, reminders, Practices, new Progress(store.Whole), time);
        var aboutOne = new HorseLetters(
            data,
            horses,
            Practices,
            new BackHistory.Store.Notes.NoteQueries(store.Store),
            links,
            new MailSender(_settings),
            time
        );
        return new LetterWriter(
            aboutOne,
            new DigestLetters(reminders, Practices, new BackHistory.Store.Notes.NoteQueries(store.Store), links),
            reminders,
            Practices,
            links,
            time
        );
    }

    public DigestSchedule DigestSchedule() =>
        new(Practices, store.Reminders, store.Get<HorseQueries>(), store.Commands, store.Get<ArchiveIntake>(), time);

    public async Task<Guid> Person(string name, PersonRole role, string language = "en", string? zone = null)
    {
        var id = DeterministicId.From("person", name);
        await Practices.Save(
            Practice,
            [new Person(id, name, $"{id:N}@people.invalid", null, null, role, language, zone)],
            CancellationToken.None
        );
        return id;
    }

    /// <summary>A horse that was never measured, and the reminder that says so.</summary>
    public static async Task<Guid> NeverMeasured(TestYard yard, string horseName, Guid owner, DateTimeOffset at, BookVisit? booking = null)
    {
        var horse = await yard.Horse(at.AddDays(-200), horseName, owner);
        var id = ReminderIds.IdFor(Practice, horse, null, ReminderRule.NoVisit, 0);
        var day = ZoneClock.Day(at, TimeZoneInfo.Utc);
        var evidence = Evidence.WithoutMeasure(day, 1, day, $"{horseName} has not been measured yet.");
        var letter = new LetterToWrite(ReminderIds.LetterOf(id, LetterKind.OwnerCheck, owner), LetterKind.OwnerCheck, owner);
        await yard.Do<Reminder>(
            id,
            at,
            r =>
                ReminderDecider.Decide(
                    r,
                    new RaiseReminder(id, horse, null, ReminderRule.NoVisit, evidence, [letter], Guid.Empty, Booking: booking),
                    at
                )
        );
        return id;
    }
}
