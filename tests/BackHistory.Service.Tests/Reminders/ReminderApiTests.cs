using System.Net;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using Ical.Net;
using MimeKit;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>What people do about reminders.</summary>
public sealed class ReminderApiTests(RunningService service)
{
    [Fact]
    public async Task A_booked_visit_reaches_the_owners_calendar_and_moves_there_under_the_same_id()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Booked Horse");
        var fitter = await service.Person(RunningService.Mine, "Fitter Who Goes", PersonRole.Fitter);

        var booked = await client.Write(
            HttpMethod.Post,
            $"/api/reminders/{reminder.Id}/book",
            new { @for = Given.InDays(9), fitterId = fitter }
        );
        Assert.Equal(HttpStatusCode.OK, booked.StatusCode);
        var first = await Appointment(reminder, 1);
        await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/book", new { @for = Given.InDays(12), fitterId = fitter });
        var moved = await Appointment(reminder, 2);

        Assert.Equal(first.Uid, moved.Uid);
        Assert.Equal((0, 1), (first.Sequence, moved.Sequence));
        Assert.Equal(72, (moved.Start!.AsUtc - first.Start!.AsUtc).TotalHours, 0.01);
        var standing = await service.Load(reminder);
        Assert.Equal((ReminderState.Booked, (Guid?)fitter), (standing.State, standing.Fitter));

        await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/cancel-booking", new { reason = "The horse is lame." });
        var cancelled = await Given.Wait(async () =>
            (await service.Load(reminder)).Post.FirstOrDefault(l => l is { Kind: LetterKind.BookingCancelled, State: LetterState.Sent })
        );
        Assert.Equal("CANCEL", (await Calendar(cancelled.LetterId)).Method);
        Assert.Equal(ReminderState.Open, (await service.Load(reminder)).State);
    }

    [Fact]
    public async Task A_visit_is_not_booked_for_yesterday_nor_with_somebody_who_is_no_fitter()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Unbookable Horse");

        var yesterday = await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/book", new { @for = Given.InDays(-1) });
        Assert.Equal("bad-date", Given.Code(await yesterday.Json()));
        var owner = await service.Person(RunningService.Mine, "Owner of Unbookable Horse");
        var noFitter = await client.Write(
            HttpMethod.Post,
            $"/api/reminders/{reminder.Id}/book",
            new { @for = Given.InDays(3), fitterId = owner }
        );
        Assert.Equal("no-such-fitter", Given.Code(await noFitter.Json()));
        Assert.Equal(reminder.Version, (await service.Load(reminder)).Version);
    }

    [Fact]
    public async Task A_reminder_is_put_off_and_closed_with_a_reason_only()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Closed Horse");

        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/close", new { })).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (
                await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/put-off", new { until = Given.Day(Given.InDays(20)) })
            ).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.OK,
            (
                await client.Write(
                    HttpMethod.Post,
                    $"/api/reminders/{reminder.Id}/put-off",
                    new { until = Given.Day(Given.InDays(20)), reason = "On holiday." }
                )
            ).StatusCode
        );
        Assert.Equal(ReminderState.PutOff, (await service.Load(reminder)).State);
        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/close", new { reason = "The horse was sold." })).StatusCode
        );
        var closed = await service.Load(reminder);
        Assert.Equal((ReminderState.Closed, "The horse was sold."), (closed.State, closed.ClosedBecause));
        Assert.Equal(
            "reminder-over",
            Given.Code(await (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/done", new { })).Json())
        );
    }

    [Fact]
    public async Task Told_again_the_owner_gets_a_second_letter_under_another_message_id()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Told Again Horse");

        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/tell-again", new { })).StatusCode
        );
        var letters = await Given.Wait(async () =>
            (await service.Load(reminder)).Post is { Count: 2 } post && post.All(l => l.State == LetterState.Sent) ? post : null
        );
        Assert.Equal(letters[0].To, letters[1].To);
        Assert.NotEqual(letters[0].LetterId, letters[1].LetterId);
    }

    [Fact]
    public async Task A_veterinary_surgeon_gets_the_evidence_and_nobody_else_can_be_asked_in_their_place()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Vetted Horse");
        var vet = await service.Person(RunningService.Mine, "Vet Of The Test", PersonRole.Veterinarian);

        Assert.Equal(
            HttpStatusCode.OK,
            (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/ask-vet", new { personId = vet })).StatusCode
        );
        var note = await Given.Wait(async () =>
            (await service.Load(reminder)).Post.FirstOrDefault(l => l is { Kind: LetterKind.VetNote, State: LetterState.Sent })
        );
        var message = await Message(note.LetterId);
        Assert.Contains("Vetted Horse", message.TextBody, StringComparison.Ordinal);
        Assert.StartsWith("Vetted Horse: ", message.Subject, StringComparison.Ordinal);
        var fitter = await service.Person(RunningService.Mine, "No Vet", PersonRole.Fitter);
        Assert.Equal(
            "no-such-vet",
            Given.Code(
                await (await client.Write(HttpMethod.Post, $"/api/reminders/{reminder.Id}/ask-vet", new { personId = fitter })).Json()
            )
        );
    }

    [Fact]
    public async Task A_form_sent_twice_from_the_page_books_once_and_one_without_its_token_does_nothing()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Form Horse");
        var page = await client.GetStringAsync("/reminders");
        Assert.Contains("Form Horse", page, StringComparison.Ordinal);

        using var forged = await client.PostAsync(
            $"/reminders/{reminder.Id}",
            new FormUrlEncodedContent([new("act", "close"), new("key", "k"), new("reason", "forged")])
        );
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        Assert.Equal(ReminderState.Open, (await service.Load(reminder)).State);
    }

    private async Task<Ical.Net.CalendarComponents.CalendarEvent> Appointment(Reminder reminder, int number)
    {
        var letter = await Given.Wait(async () =>
            (await service.Load(reminder))
                .Post.Where(l => l is { Kind: LetterKind.BookingMade, State: LetterState.Sent })
                .Skip(number - 1)
                .FirstOrDefault()
        );
        var calendar = await Calendar(letter.LetterId);
        Assert.Equal("REQUEST", calendar.Method);
        return Assert.Single(calendar.Events);
    }

    private async Task<Calendar> Calendar(Guid letterId)
    {
        var message = await Message(letterId);
        var part = message.BodyParts.OfType<TextPart>().Single(p => p.ContentType.IsMimeType("text", "calendar"));
        return Ical.Net.Calendar.Load(part.Text)!;
    }

    private Task<MimeMessage> Message(Guid letterId) => MimeMessage.LoadAsync(Path.Combine(service.MailFolder, $"{letterId:N}.eml"));
}
