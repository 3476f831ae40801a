using BackHistory.Application.Horses;
using BackHistory.History;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Policy;
using BackHistory.Store.Accounts;
using BackHistory.Store.Horses;

namespace BackHistory.Application.Tests.Horses;

/// <summary>Of two registrations of one horse nothing is lost: what only the second says goes over, and what says something else stands
/// beside.</summary>
public sealed class MergeHorseRegistrationsTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private const string Chip = "276098100012345";
    private const string OtherChip = "276098100054321";

    [Fact]
    public async Task What_only_the_second_says_is_filled_in_and_what_both_say_stays_as_it_is()
    {
        var practice = await acts.Found("merge fills");
        var (kept, asked) = (await practice.Person("Robin Field", PersonRole.Owner), await practice.Person("Ada Marsh", PersonRole.Owner));
        var into = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble", kept);
        var second = await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Brambel", asked);
        var bare = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble too");
        await Describe(practice, into, new HorseDetails("Bramble", Sex.Mare, null, 1620, null, null));
        await Describe(practice, second, new HorseDetails("Brambel", Sex.Gelding, new DateOnly(2016, 5, 1), null, "Trakehner", "bay"));

        Assert.Null((await Merge(practice, second, into)).Refused);

        var horse = await practice.Horse(into);
        Assert.Equal(
            ("Bramble", Sex.Mare, new DateOnly(2016, 5, 1), 1620, "Trakehner", "bay", kept),
            (horse.Name, horse.Sex, horse.Foaled, horse.HeightMm, horse.Breed, horse.Colour, horse.OwnerId)
        );
        Assert.Null((await Merge(practice, into, bare)).Refused);
        Assert.Equal(kept, (await practice.Horse(bare)).OwnerId);
    }

    [Fact]
    public async Task Its_numbers_go_over_and_of_two_chips_both_are_found_until_somebody_says_which_is_wrong()
    {
        var practice = await acts.Found("merge chips");
        var into = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble");
        var second = await practice.Yard.Horse(acts.Time.Now.AddDays(-30), "Brambel");
        Assert.Null((await Identify(practice, into, Chip, null)).Refused);
        Assert.Null((await Identify(practice, second, OtherChip, "DE410001")).Refused);

        Assert.Null((await Merge(practice, second, into)).Refused);
        await acts.Store.CatchUp();

        var horses = acts.Get<HorseQueries>();
        var known = (await horses.Identity(practice.Name, into, default))!;
        Assert.Equal((Chip, "DE410001"), (known.Microchip, known.Passport));
        Assert.Equal([OtherChip], known.Further);
        Assert.True((await horses.Identity(practice.Name, second, default))!.IsEmpty);
        Assert.Equal(into, Assert.Single(await acts.Get<Store.Find>().Horses(practice.Name, OtherChip, default)).Id);
        var third = await practice.Yard.Horse(acts.Time.Now, "Thistle");
        Assert.Equal("identity-taken", (await Identify(practice, third, OtherChip, null)).Refused?.Code);
        Assert.Equal("horse-merged", (await Identify(practice, second, OtherChip, null)).Refused?.Code);

        var wrong = new IdentifyHorse.Input(into, Chip, "DE410001", [OtherChip]);
        Assert.Null((await acts.Get<IdentifyHorse>().Do(wrong, practice.By(PracticeRole.Fitter), default)).Refused);
        Assert.Empty((await horses.Identity(practice.Name, into, default))!.Further);
        Assert.Null((await Identify(practice, third, OtherChip, null)).Refused);
    }

    [Fact]
    public async Task A_visit_that_is_booked_stays_booked_under_the_same_booking_and_the_sweep_finds_nothing_to_do()
    {
        var practice = await acts.Found("merge bookings");
        var into = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble");
        var (reminder, _) = await practice.NeverMeasured("Brambel", await practice.Person("Robin Field", PersonRole.Owner), acts.Time.Now);
        var second = (await practice.Reminder(reminder)).HorseId;
        var (booking, day) = (practice.Id("booking"), acts.Time.Now.AddDays(5));
        var fitter = TestPractice.IdOf(PracticeRole.Fitter);
        var book = new BookVisit(booking, day, fitter, null, fitter);
        await practice.Yard.Do<Reminder>(reminder, acts.Time.Now, r => ReminderDecider.Decide(r, book, acts.Time.Now));

        Assert.Null((await Merge(practice, second, into)).Refused);

        var carried = Assert.Single(await acts.Store.Reminders.OfHorse(practice.Name, into, default));
        Assert.Equal(
            (ReminderState.Booked, booking, day, fitter, ReminderRule.NoVisit),
            (carried.State, carried.BookingId, carried.BookedFor, carried.Fitter, carried.Rule)
        );
        Assert.Equal(ReminderState.Withdrawn, (await practice.Reminder(reminder)).State);
        Assert.Equal(0, await acts.Get<Merging>().FinishAll(practice.Name, acts.Time.Now, default));
    }

    [Fact]
    public async Task A_reminder_that_was_put_off_stays_put_off_until_its_day()
    {
        var practice = await acts.Found("merge put off");
        var into = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble");
        var (reminder, _) = await practice.NeverMeasured("Brambel", await practice.Person("Robin Field", PersonRole.Owner), acts.Time.Now);
        var second = (await practice.Reminder(reminder)).HorseId;
        var until = new DateOnly(2026, 4, 11);
        var putOff = new PutOffReminder(until, "The mare foals.", TestPractice.IdOf(PracticeRole.Fitter));
        await practice.Yard.Do<Reminder>(
            reminder,
            acts.Time.Now,
            r => ReminderDecider.Decide(r, putOff, until.AddDays(-40), acts.Time.Now)
        );

        Assert.Null((await Merge(practice, second, into)).Refused);

        var carried = Assert.Single(await acts.Store.Reminders.OfHorse(practice.Name, into, default));
        Assert.Equal(
            (ReminderState.PutOff, until, "The mare foals.", ReminderRule.NoVisit),
            (carried.State, carried.PutOffUntil, carried.PutOffBecause, carried.Rule)
        );
        Assert.Equal(ReminderState.Withdrawn, (await practice.Reminder(reminder)).State);
        Assert.Equal(0, await acts.Get<Merging>().FinishAll(practice.Name, acts.Time.Now, default));
    }

    [Fact]
    public async Task A_caution_that_was_ended_without_the_vets_word_goes_on_waiting_for_it()
    {
        var practice = await acts.Found("merge cautions");
        var into = await practice.Yard.Horse(acts.Time.Now.AddDays(-300), "Bramble");
        var (never, _) = await practice.NeverMeasured("Brambel", await practice.Person("Robin Field", PersonRole.Owner), acts.Time.Now);
        var (second, evidence) = ((await practice.Reminder(never)).HorseId, (await practice.Reminder(never)).Evidence);
        var (caution, by) = (practice.Id("caution"), TestPractice.IdOf(PracticeRole.Fitter));
        var raise = new RaiseReminder(caution, second, null, ReminderRule.VetCaution, evidence, [], by);
        await practice.Yard.Do<Reminder>(caution, acts.Time.Now, r => ReminderDecider.Decide(r, raise, acts.Time.Now));
        var close = new CloseReminder("Owner rang.", by);
        await practice.Yard.Do<Reminder>(caution, acts.Time.Now, r => ReminderDecider.Decide(r, close, acts.Time.Now));

        Assert.Null((await Merge(practice, second, into)).Refused);

        var waits = ReminderPolicy.AwaitsVet(await acts.Store.Reminders.OfHorse(practice.Name, into, default));
        Assert.Equal((ReminderRule.VetCaution, "Owner rang."), (waits?.Rule, waits?.ClosedBecause));
        Assert.Equal(0, await acts.Get<Merging>().FinishAll(practice.Name, acts.Time.Now, default));
    }

    private Task<Outcome> Merge(TestPractice practice, Guid second, Guid into) =>
        acts.Get<MergeHorseRegistrations>().Do(new(second, into, "Same chip."), practice.By(PracticeRole.Manager), default);

    private Task<Outcome> Identify(TestPractice practice, Guid horse, string? chip, string? passport) =>
        acts.Get<IdentifyHorse>().Do(new(horse, chip, passport), practice.By(PracticeRole.Fitter), default);

    private async Task Describe(TestPractice practice, Guid horse, HorseDetails details)
    {
        var owner = (await practice.Horse(horse)).OwnerId;
        var given = new DescribeHorse.Input(horse, details, "Looked again.", owner, null);
        Assert.Null((await acts.Get<DescribeHorse>().Do(given, practice.By(PracticeRole.Fitter), default)).Refused);
    }
}
