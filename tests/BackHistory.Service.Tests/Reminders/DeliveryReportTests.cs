using System.Net;
using System.Text;
using BackHistory.Application.Letters;
using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Service.Jobs;
using BackHistory.Store;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace BackHistory.Service.Tests.Reminders;

/// <summary>What mail servers report about letters, in the form of RFC 3464 (multipart/report by RFC 6522).</summary>
[Trait("source", "RFC 3464, sections 2.2 and 2.3: fields and actions (from memory)")]
public sealed class DeliveryReportTests(RunningService service)
{
    [Fact]
    public async Task A_letter_that_comes_back_is_shown_as_such_and_the_second_person_hears_of_it_at_once()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Bouncing Horse");
        var letter = reminder.Post[0].LetterId;

        Assert.Equal(
            HttpStatusCode.NoContent,
            (await HandIn(client, Report(letter, "failed", "5.1.1", "smtp; 550 no such user"))).StatusCode
        );
        var bounced = await service.Load(reminder);
        Assert.Equal((LetterState.Bounced, "5.1.1: 550 no such user"), (bounced.Post[0].State, bounced.Post[0].Note));
        await Given.Wait(async () =>
            (await service.Load(reminder)).Post.FirstOrDefault(l => l is { Kind: LetterKind.NoAnswer, State: LetterState.Sent })
        );

        // The same report once more changes nothing.
        var version = (await service.Load(reminder)).Version;
        await HandIn(client, Report(letter, "failed", "5.1.1", "smtp; 550 no such user"));
        Assert.Equal(version, (await service.Load(reminder)).Version);
        Assert.Contains(
            "came back: 5.1.1: 550 no such user",
            WebUtility.HtmlDecode(await client.GetStringAsync("/reminders")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_report_of_delay_leaves_the_letter_sent_and_one_of_arrival_after_it_says_that_it_arrived()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Delayed Horse");
        var letter = reminder.Post[0].LetterId;

        await HandIn(client, Report(letter, "delayed", "4.4.1", "smtp; 451 try again"));
        Assert.Equal(LetterState.Sent, (await service.Load(reminder)).Post[0].State);
        await HandIn(client, Report(letter, "delivered", "2.0.0", null));
        Assert.Equal(LetterState.Delivered, (await service.Load(reminder)).Post[0].State);
        // A delay that is read late unlearns nothing.
        await HandIn(client, Report(letter, "delayed", "4.4.1", "smtp; 451 still trying"));
        Assert.Equal(LetterState.Delivered, (await service.Load(reminder)).Post[0].State);
    }

    [Fact]
    public async Task Another_practice_cannot_report_about_our_letters_and_a_persons_answer_is_no_report()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Guarded Horse");
        using var others = service.Client(RunningService.Theirs);

        Assert.Equal(
            HttpStatusCode.UnprocessableEntity,
            (await HandIn(others, Report(reminder.Post[0].LetterId, "failed", "5.1.1", null))).StatusCode
        );
        var reply =
            $"From: owner@people.invalid\r\nSubject: Re: your saddle\r\nIn-Reply-To: "
            + $"<{reminder.Post[0].LetterId:N}@backhistory.invalid>\r\n\r\nThank you.\r\n";
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await HandIn(client, reply)).StatusCode);
        Assert.Equal(LetterState.Sent, (await service.Load(reminder)).Post[0].State);
    }

    [Fact]
    public async Task The_mailbox_folder_is_emptied_and_what_is_no_report_is_kept_for_a_person()
    {
        using var client = service.Client();
        var reminder = await service.Told(client, "Mailbox Horse");
        var folder = Directory.CreateTempSubdirectory("backhistory-mailbox-");
        try
        {
            // A Maildir: what is not yet whole lies in tmp, what has come in new.
            var arrived = folder.CreateSubdirectory("new").FullName;
            await File.WriteAllTextAsync(
                Path.Combine(arrived, "1.report"),
                Report(reminder.Post[0].LetterId, "failed", "5.2.2", "smtp; 552 mailbox full", headersOnly: true)
            );
            await File.WriteAllTextAsync(
                Path.Combine(arrived, "2.spam"),
                "From: somebody@elsewhere.invalid\r\nSubject: Buy\r\n\r\nBuy.\r\n"
            );
            var settings = service.Services.GetRequiredService<Settings>();
            var job = new DeliveryReportsJob(
                service.Services.GetRequiredService<DeliveryReports>(),
                service.Services.GetRequiredService<TakeDeliveryReport>(),
                settings with
                {
                    Mail = settings.Mail with { Reports = folder.FullName },
                },
                service.Services.GetRequiredService<AdvisoryLocks>(),
                NullLogger<DeliveryReportsJob>.Instance
            );
            await job.Run(CancellationToken.None);
            await job.Run(CancellationToken.None);

            Assert.Equal(LetterState.Bounced, (await service.Load(reminder)).Post[0].State);
            Assert.Empty(Directory.GetFiles(arrived));
            Assert.Equal(["1.report"], Directory.GetFiles(Path.Combine(folder.FullName, "read")).Select(Path.GetFileName));
            Assert.Equal(["2.spam"], Directory.GetFiles(Path.Combine(folder.FullName, "other")).Select(Path.GetFileName));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<HttpResponseMessage> HandIn(HttpClient client, string report)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(report));
        content.Headers.TryAddWithoutValidation("Content-Type", "message/rfc822");
        return await client.PostAsync("/api/delivery-reports", content);
    }

    private static string Report(Guid letter, string action, string status, string? diagnostic, bool headersOnly = false) =>
        string.Join(
            "\r\n",
            [
                "From: Mail Delivery <mailer@mail.invalid>",
                "To: practice@backhistory.invalid",
                "Subject: Delivery status",
                "MIME-Version: 1.0",
                "Content-Type: multipart/report; report-type=delivery-status; boundary=\"b\"",
                "",
                "--b",
                "Content-Type: text/plain",
                "",
                "Your letter.",
                "",
                "--b",
                "Content-Type: message/delivery-status",
                "",
                "Reporting-MTA: dns; mail.invalid",
                "Arrival-Date: Wed, 25 Nov 2026 10:00:00 +0000",
                "",
                "Final-Recipient: rfc822; owner@people.invalid",
                $"Action: {action}",
                $"Status: {status}",
                .. diagnostic is null ? (string[])[] : [$"Diagnostic-Code: {diagnostic}"],
                "",
                "--b",
                headersOnly ? "Content-Type: text/rfc822-headers" : "Content-Type: message/rfc822",
                "",
                $"Message-Id: <{letter:N}@backhistory.invalid>",
                "From: practice@backhistory.invalid",
                "Subject: Time to have the saddle looked at",
                "",
                headersOnly ? "" : "Hello.",
                "",
                "--b--",
                "",
            ]
        );
}
