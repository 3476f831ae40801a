using System.Security.Cryptography;
using System.Text;
using BackHistory.History.Practices;
using BackHistory.History.Sharing;
using BackHistory.Service.Access;
using BackHistory.Service.Configuration;
using BackHistory.Service.Web;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;
using BackHistory.Store.Horses;
using BackHistory.Store.Practices;
using BackHistory.Store.Sharing;

namespace BackHistory.Service.Sharing;

/// <summary>Lets whoever holds a link or a grant look at its one horse, as long as it holds, and writes every use into the horse's
/// audit.</summary>
public sealed class ShareAccess(
    SharedLinks links,
    SharingQueries sharing,
    HorseQueries horses,
    PracticeQueries practices,
    AccountDocuments accounts,
    AuditBook audit,
    Settings settings,
    TimeProvider time
)
{
    private const int SecretBytes = 32;

    /// <param name="what">What is asked for, for the audit: <c>page</c>, <c>chart</c>, <c>comment</c>, <c>answer</c>.</param>
    public async Task<Opened> ByLink(HttpContext http, string token, string what, CancellationToken ct)
    {
        if (links.Read(token) is not { } name)
            return Closed.NotOurs;
        var (link, horseId, owner) = await Find(name, ct);
        if (link is null)
            return Closed.NotOurs;
        var why = WhyClosed(link, owner, http);
        var device = Devices.NameOf(http.Request.Headers.UserAgent.ToString());
        await audit.Note(
            name.Practice,
            new AuditNote(
                Guid.NewGuid(),
                time.GetUtcNow(),
                why is null ? AuditWords.LinkOpened : AuditWords.LinkTurnedAway,
                link.PersonId,
                horseId
            )
            {
                LinkId = link.Id,
                Detail = why is null ? $"{what}, {device}" : $"{what}, {device}: {why}",
            },
            ct
        );
        var reader = await LanguageOf(name.Practice, link.PersonId, ct);
        return why is { } closed
            ? new Opened(null, closed, reader)
            : new ShareContext(name.Practice, horseId, link.PersonId, link.Role, link.Scope, link.MayComment, link.Id, null)
            {
                Language = reader ?? SpokenLanguage.Asked(http),
            };
    }

    /// <param name="grantId">One that the signed-in account has accepted; the practice stands with the account.</param>
    public async Task<Opened> ByGrant(HttpContext http, Guid grantId, string what, CancellationToken ct)
    {
        if (SessionEvents.AccountOf(http.User) is not { } accountId || await accounts.Load(accountId, ct) is not { } account)
            return Closed.NotOurs;
        if (account.Shared.Find(s => s.GrantId == grantId) is not { } held)
            return Closed.NotOurs;
        var shared = await sharing.Load(held.Practice, held.HorseId, ct);
        if (
            shared?.Grants.GetValueOrDefault(grantId) is not { } grant
            || await horses.Load(held.Practice, shared.HorseId, ct) is not { } horse
        )
            return Closed.NotOurs;
        var today = PracticeClock.Today((await practices.Load(held.Practice, ct))!, time);
        Closed? why =
            grant.Holds(today, horse.OwnerId) ? null
            : grant.RevokedAt is not null ? Closed.TakenBack
            : grant.Until < today ? Closed.Ended
            : Closed.OtherOwner;
        await audit.Note(
            held.Practice,
            new AuditNote(
                Guid.NewGuid(),
                time.GetUtcNow(),
                why is null ? AuditWords.GrantOpened : AuditWords.GrantTurnedAway,
                grant.PersonId,
                horse.Id
            )
            {
                GrantId = grantId,
                Detail = why is null ? what : $"{what}: {why}",
            },
            ct
        );
        var reader = await LanguageOf(held.Practice, grant.PersonId, ct);
        return why is { } closed
            ? new Opened(null, closed, reader)
            : new ShareContext(held.Practice, horse.Id, grant.PersonId, grant.Role, grant.Scope, grant.MayComment, null, grantId)
            {
                Language = reader ?? SpokenLanguage.Asked(http),
            };
    }

    private async Task<ReportLanguage?> LanguageOf(string practice, Guid? reader, CancellationToken ct) =>
        reader is { } id && await practices.Person(practice, id, ct) is { } person ? ReportLanguage.For(person.Language) : null;

    /// <summary>The link that may be bound to this device now, and the device's secret to bind it to.</summary>
    public async Task<(LinkName Name, string DeviceHash)?> ToBind(HttpContext http, string token, CancellationToken ct)
    {
        if (links.Read(token) is not { } name)
            return null;
        var (link, horseId, owner) = await Find(name, ct);
        if (link is null || WhyClosed(link, owner, http) != Closed.FirstDevice)
            return null;
        var secret = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(SecretBytes));
        var safe = settings.PublicUrl?.Scheme == Uri.UriSchemeHttps;
        http.Response.Cookies.Append(
            CookieOf(link.Id),
            secret,
            new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Lax,
                Secure = safe,
                Path = "/look",
                Expires = link.EndsAt,
                IsEssential = true,
            }
        );
        return (name with { HorseId = horseId }, HashOf(secret));
    }

    /// <summary>The link, and the horse that it shows: that of its name, or the one into which that was merged.</summary>
    private async Task<(SharedLink? Link, Guid HorseId, Guid? Owner)> Find(LinkName name, CancellationToken ct)
    {
        var shared = await sharing.Load(name.Practice, name.HorseId, ct);
        if (
            shared?.Links.GetValueOrDefault(name.LinkId) is not { } link
            || await horses.Load(name.Practice, shared.HorseId, ct) is not { } horse
        )
            return (null, name.HorseId, null);
        return (link, horse.Id, horse.OwnerId);
    }

    private Closed? WhyClosed(SharedLink link, Guid? owner, HttpContext http)
    {
        if (link.RevokedAt is not null)
            return Closed.TakenBack;
        if (time.GetUtcNow() >= link.EndsAt)
            return Closed.Ended;
        if (!link.IsForOwner(owner))
            return Closed.OtherOwner;
        if (!link.BindsToDevice)
            return null;
        if (link.Device is null)
            return Closed.FirstDevice;
        var secret = http.Request.Cookies[CookieOf(link.Id)];
        return
            secret is { Length: SecretBytes * 2 }
            && CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(HashOf(secret)), Encoding.ASCII.GetBytes(link.Device))
            ? null
            : Closed.OtherDevice;
    }

    private static string CookieOf(Guid linkId) => $"backhistory-look-{linkId:N}"[..28];

    private static string HashOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}
