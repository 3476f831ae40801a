using BackHistory.Application;
using BackHistory.Application.Letters;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using BackHistory.Service.Web;
using BackHistory.Store;
using MimeKit;

namespace BackHistory.Service.Reminders;

/// <summary>Where a mail server, or a program that reads its mailbox, hands in what was reported about letters.</summary>
public static class DeliveryReportsApi
{
    public static void MapDeliveryReports(this IEndpointRouteBuilder api) =>
        api.MapPost("/delivery-reports", Take)
            .Needs<TakeDeliveryReport>()
            .WithTags("Letters")
            .WithSummary("Hand in a delivery-status message (RFC 3464), whole, as it arrived")
            .Accepts<byte[]>("message/rfc822");

    private static async Task<IResult> Take(
        HttpContext http,
        DeliveryReports reports,
        TakeDeliveryReport take,
        TimeProvider time,
        CancellationToken ct
    )
    {
        var who = SignedIn.From(http.User);
        var report = await Read(reports, await Bodies.Read(http.Request, ct), ct);
        // The same word with the same text is the same report, whoever hands it in.
        var context = new CommandContext(who.Practice, who.PersonId, "", "", null, time.GetUtcNow(), http.TraceIdentifier);
        var outcome = await take.Do(report, new Caller(context, who.Role), ct);
        return outcome.Refused is { } no ? Problems.From(no) : Results.NoContent();
    }

    private static async Task<TakeDeliveryReport.Input?> Read(DeliveryReports reports, byte[] body, CancellationToken ct)
    {
        try
        {
            using var bytes = new MemoryStream(body);
            using var message = await MimeMessage.LoadAsync(bytes, ct);
            return reports.Read(message);
        }
        catch (FormatException)
        {
            return null;
        }
    }
}
