using BackHistory.History.Reminders;
using BackHistory.History.Reminders.Digests;
using BackHistory.History.Reminders.Policy;

namespace BackHistory.History.Tests.Reminders;

/// <summary>Letters about many horses and quiet hours, on days of 23 and of 25 hours and after outages.</summary>
public sealed class DigestTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
    private static readonly Guid Manager = DeterministicId.From("manager");
    private static readonly Guid Fitter = DeterministicId.From("fitter");

    [Fact]
    public void A_week_looked_at_every_ten_minutes_owes_the_manager_one_digest()
    {
        // From Sunday to Sunday, across the night in which clocks went forward (29 March 2026).
        var digests = Owed(At(2026, 3, 22, 0), At(2026, 3, 29, 12), TimeSpan.FromMinutes(10), new LetterSetting());

        Assert.Equal(
            [new DateOnly(2026, 3, 16), new DateOnly(2026, 3, 23)],
            digests.Where(d => d.Kind == LetterKind.ManagerDigest).Select(d => d.On)
        );
    }

    [Fact]
    public void An_outage_of_three_days_over_the_digests_hour_is_made_up_for_by_one_digest()
    {
        var before = Owed(At(2026, 6, 6, 0), At(2026, 6, 7, 12), TimeSpan.FromMinutes(10), new LetterSetting());
        var after = Owed(At(2026, 6, 10, 12), At(2026, 6, 12, 0), TimeSpan.FromMinutes(10), new LetterSetting());

        Assert.DoesNotContain(before, d => d.On == new DateOnly(2026, 6, 8));
        Assert.Equal(new DateOnly(2026, 6, 8), Assert.Single(after, d => d.Kind == LetterKind.ManagerDigest).On);
    }

    [Fact]
    public void An_outage_of_three_weeks_is_made_up_for_by_one_digest_and_not_by_three()
    {
        var after = Owed(At(2026, 6, 24, 9), At(2026, 6, 25, 9), TimeSpan.FromHours(1), new LetterSetting());

        Assert.Equal(new DateOnly(2026, 6, 22), Assert.Single(after, d => d.Kind == LetterKind.ManagerDigest).On);
    }

    [Fact]
    public void Nobody_gets_last_weeks_digest_on_the_day_before_the_next()
    {
        Assert.Empty(Owed(At(2026, 6, 14, 8), At(2026, 6, 14, 23), TimeSpan.FromHours(1), new LetterSetting()));
    }

    [Theory]
    [InlineData(2026, 3, 29)]
    [InlineData(2026, 10, 25)]
    public void A_fitter_gets_one_list_on_a_day_on_which_clocks_change(int year, int month, int day)
    {
        var lists = Owed(
            At(year, month, day, 0),
            At(year, month, day, 23),
            TimeSpan.FromMinutes(10),
            new LetterSetting { DayListAt = new TimeOnly(2, 30) },
            [Fitter]
        );

        Assert.Equal(new DateOnly(year, month, day), Assert.Single(lists, d => d.Kind == LetterKind.FitterDay).On);
    }

    [Fact]
    public void A_list_of_the_day_that_comes_after_the_afternoon_has_begun_is_not_sent()
    {
        Assert.Empty(
            Owed(At(2026, 6, 9, 15), At(2026, 6, 9, 23), TimeSpan.FromMinutes(30), new LetterSetting { Digest = false }, [Fitter])
        );
    }

    [Fact]
    public void Quiet_hours_end_by_the_readers_clock_also_in_the_night_that_has_an_hour_less()
    {
        // 28 March, 23:00 in Berlin; the night to the 29th is an hour shorter, and seven o'clock is five in UTC.
        var until = QuietHours.Until(new DateTimeOffset(2026, 3, 28, 22, 0, 0, TimeSpan.Zero), Berlin, Nights);

        Assert.Equal(new DateTimeOffset(2026, 3, 29, 5, 0, 0, TimeSpan.Zero), until);
    }

    [Fact]
    public void Quiet_hours_end_by_the_readers_clock_also_in_the_night_that_has_an_hour_more()
    {
        var until = QuietHours.Until(new DateTimeOffset(2026, 10, 24, 20, 0, 0, TimeSpan.Zero), Berlin, Nights);

        Assert.Equal(new DateTimeOffset(2026, 10, 25, 6, 0, 0, TimeSpan.Zero), until);
    }

    [Fact]
    public void At_every_moment_of_a_year_a_quiet_reader_is_quiet_until_the_hour_that_was_set_and_no_longer()
    {
        var (from, until) = (new TimeOnly(21, 0), new TimeOnly(7, 0));
        for (var now = At(2026, 1, 1, 0); now < At(2027, 1, 1, 0); now = now.AddMinutes(17))
        {
            var clock = TimeOnly.FromDateTime(ZoneClock.At(now, Berlin).DateTime);
            var quiet = QuietHours.Until(now, Berlin, Nights);
            Assert.Equal(clock >= from || clock < until, quiet is not null);
            if (quiet is not { } end)
                continue;
            Assert.Equal(until, TimeOnly.FromDateTime(ZoneClock.At(end, Berlin).DateTime));
            Assert.InRange(end - now, TimeSpan.FromTicks(1), TimeSpan.FromHours(11));
        }
    }

    [Fact]
    public void A_practice_that_set_nothing_writes_to_nobody_in_the_evening_at_night_and_on_a_Sunday()
    {
        var usual = new LetterSetting().Quiet;

        // 01:48 on Sunday 29 November: the next letters leave on Monday at eight.
        Assert.Equal(At(2026, 11, 30, 8), QuietHours.Until(At(2026, 11, 29, 1).AddMinutes(48), Berlin, usual));
        Assert.Equal(At(2026, 11, 30, 8), QuietHours.Until(At(2026, 11, 28, 20), Berlin, usual));
        Assert.Equal(At(2026, 11, 30, 8), QuietHours.Until(At(2026, 11, 29, 14), Berlin, usual));
        Assert.Equal(At(2026, 11, 28, 8), QuietHours.Until(At(2026, 11, 28, 7), Berlin, usual));
        Assert.Null(QuietHours.Until(At(2026, 11, 28, 12), Berlin, usual));
        Assert.Null(new LetterSetting { KeepQuiet = false }.Quiet);
    }

    [Fact]
    public void At_every_moment_of_a_year_a_reader_with_two_quiet_days_is_written_to_on_the_other_days_only()
    {
        var quiet = Nights with { Days = [DayOfWeek.Saturday, DayOfWeek.Sunday] };
        for (var now = At(2026, 1, 1, 0); now < At(2027, 1, 1, 0); now = now.AddMinutes(17))
        {
            if (QuietHours.Until(now, Berlin, quiet) is not { } end)
                continue;
            Assert.Null(QuietHours.Until(end, Berlin, quiet));
            Assert.NotNull(QuietHours.Until(end.AddMinutes(-1), Berlin, quiet));
            Assert.InRange(end - now, TimeSpan.FromTicks(1), TimeSpan.FromHours(11 + 48 + 1));
        }
    }

    private static readonly QuietTimes Nights = new(new TimeOnly(21, 0), new TimeOnly(7, 0), []);

    private static DateTimeOffset At(int year, int month, int day, int hour) =>
        ZoneClock.At(new DateOnly(year, month, day), new TimeOnly(hour, 0), Berlin);

    /// <summary>What is owed when somebody looks again and again; each once, as its id says.</summary>
    private static List<DueDigest> Owed(
        DateTimeOffset from,
        DateTimeOffset to,
        TimeSpan every,
        LetterSetting setting,
        Guid[]? fitters = null
    )
    {
        var owed = new Dictionary<Guid, DueDigest>();
        for (var now = from; now < to; now += every)
            foreach (var one in Digests.Due("practice", setting, Berlin, now, [Manager], fitters ?? []))
                owed.TryAdd(one.Id, one);
        return [.. owed.Values.OrderBy(d => d.On)];
    }
}
