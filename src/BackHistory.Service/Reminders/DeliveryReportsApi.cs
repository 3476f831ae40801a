using BackHistory.History;
using BackHistory.Service.Access;
using BackHistory.Service.Jobs;
using BackHistory.Service.Web;
using MimeKit;

namespace BackHistory.Service.Reminders;

/// <summary>Where a mail server, or a program that reads its mailbox, hands in what was reported about letters.</summary>
public static class DeliveryReportsApi
{
    private static readonly Refused NotOurs = new("not-a-report", "This is no delivery-status message about a letter of this practice.");

    public static void MapDeliveryReports(this IEndpointRouteBuilder api) =>
        api.MapPost("/delivery-reports", Take)
            .RequireAuthorization(Policies.Enter)
            .WithTags("Letters")
            .WithSummary("Hand in a delivery-status message (RFC 3464), whole, as it arrived")
            .Accepts<byte[]>("message/rfc822");

    private static async Task<IResult> Take(HttpContext http, DeliveryReports reports, CancellationToken ct)
    {
        try
        {
            using var bytes = new MemoryStream(await Bodies.Read(http.Request, ct));
            using var message = await MimeMessage.LoadAsync(bytes, ct);
            return await reports.Take(message, SignedIn.From(http.User).Practice, ct) ? Results.NoContent() : Problems.Of(NotOurs);
        }
        catch (FormatException)
        {
            return Problems.Of(NotOurs);
        }
    }
}
