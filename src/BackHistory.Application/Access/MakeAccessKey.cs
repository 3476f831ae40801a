using BackHistory.History;
using BackHistory.Store.Accounts;
using BackHistory.Store.Audit;

namespace BackHistory.Application.Access;

/// <summary>A key with which a program works as its owner, in one practice, for so many days, doing no more than it is allowed.</summary>
public sealed class MakeAccessKey(AccessKeys keys, IAccountLetters letters, AuditBook audit) : IAct
{
    private const int MostKeys = 50;
    private const int LongestLabel = 80;

    public static Right Needs => Right.See;

    /// <param name="AccountId">The owner's.</param>
    /// <param name="Most">What the key may do at most.</param>
    public sealed record Input(Guid AccountId, string Label, PracticeRole Most, int Days);

    /// <param name="Secret">Shown once.</param>
    public sealed record Made(string? Secret, AccessKey? Key, Refused? Refused)
    {
        internal static Made No(Refused why) => new(null, null, why);
    }

    public async Task<Made> Do(Input input, Caller by, CancellationToken ct)
    {
        var (practice, now) = (by.Context.Tenant, by.Context.Now);
        if (ReadableName.IsMissing(input.Label) || input.Label.Length > LongestLabel)
            return Made.No(new Refused("no-label", "Say in up to 80 letters which program it is for.", Place: "label"));
        if (input.Days is < 1 or > AccessKey.MostDays)
            return Made.No(new Refused("bad-days", "A key holds for 1 to 365 days.", Place: "days"));
        if (!Enum.IsDefined(input.Most) || input.Most > by.Role || input.Most == PracticeRole.Administrator)
            return Made.No(new Refused("too-much", "A key may do no more than you may, and never administers.", Place: "most"));
        if ((await keys.KeysOf(input.AccountId, practice, ct)).Count >= MostKeys)
            return Made.No(new Refused("too-many-keys", "You have 50 keys here. End some first.", RefusalKind.Conflict));
        var secret = AccessKey.Make();
        var key = new AccessKey(
            AccessKey.HashOf(secret),
            input.Label.Trim(),
            input.AccountId,
            practice,
            now,
            now.AddDays(input.Days),
            Most: input.Most
        );
        await keys.Save(key, ct);
        letters.TellOfKey(input.AccountId, key.Label);
        await audit.Note(by, AuditWords.KeyMade, detail: ReportLanguage.English.Name(input.Most), ct: ct);
        return new Made(secret, key, null);
    }
}
