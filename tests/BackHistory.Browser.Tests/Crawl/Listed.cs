namespace BackHistory.Browser.Tests.Crawl;

/// <summary>What a crawl by rules does not get right by its nature, each with its reason.</summary>
internal static class Listed
{
    /// <summary>Forms that refuse what the rules fill in.</summary>
    private static readonly Dictionary<string, string> RefusingForms = new(StringComparer.Ordinal)
    {
        ["POST /api/practice/studies/{studyId:guid}/visits"] = "counts only a visit at which something was taken twice",
        ["POST /saddles/{SaddleId:guid}/work/new work"] = "asks whether two horses use the saddle",
        ["POST /practice/gauges/table gauge Form.Press=fill"] = "takes over what was pasted, and nothing was",
        ["POST /sign-in"] = "an outsider has no password here",
        ["POST /me/second-factor/confirm"] = "the code is worked out by an app",
        ["POST /practice/members/role"] = "the only administrator stays one",
    };

    /// <summary>Fields whose content is not shown afterwards; after a star, on every form.</summary>
    private static readonly Dictionary<string, string> UnshownFields = new(StringComparer.Ordinal)
    {
        ["* reason"] = "why something was put right stands with the event, and is shown where what was put right is",
        ["* Form.Reason"] = "the same, of a page's form",
        ["POST /me/address email"] = "counts only once its letter is answered",
        ["POST /forgotten email"] = "the answer is the same whether or not the address is known",
        ["POST /me/keys/ most"] = "shown in fewer words",
        ["POST /practice/members/invite name"] = "stands in the letter, and counts once it is answered",
        ["POST /practice/members/invite language"] = "is the letter's",
        ["POST /practice/letters/{Kind}/{Language} words horse"] = "which horse the example is of is nobody's setting",
        ["POST /letter/{token} Tell the practice words"] = "is told to the practice, not to whoever wrote it",
        ["POST /letter/{token} Yes, it has words"] = "is told to the practice, not to whoever wrote it",
        ["POST /letter/{token} Der Praxis mitteilen words"] = "is told to the practice, not to whoever wrote it",
        ["POST /letter/{token} Ja, ist geschehen words"] = "is told to the practice, not to whoever wrote it",
        ["POST /horses/{horseId:guid}/share/link fromHorse=false days"] = "shown as the day on which it ends",
        ["POST /horses/{horseId:guid}/share/link fromHorse=true days"] = "shown as the day on which it ends",
        ["POST /horses/{horseId:guid}/share/link fromHorse=false binds"] =
            "the form is empty again, and the link shows it where it is opened",
        ["POST /horses/{horseId:guid}/share/link fromHorse=true binds"] =
            "the form is empty again, and the link shows it where it is opened",
        ["POST /horses/{horseId:guid}/share/person fromHorse=false email"] = "shown by the person's name",
        ["POST /horses/{horseId:guid}/share/person fromHorse=true email"] = "shown by the person's name",
        ["POST /reminders/many/write-again many Form.EvenSo"] = "is about this one press",
        ["POST /saddles/{SaddleId:guid}/work/new work Form.Visit"] = "the work stands beside its visit in the horse's history",
        ["POST /saddles/{SaddleId:guid}/work/{WorkId:guid}/correct work Form.Visit"] =
            "the work stands beside its visit in the horse's history",
        ["POST /look/{token}/comment words"] = "is told to the practice, not shown to whoever opens the link",
        ["POST /me/keys/ days"] = "shown as the day on which it ends",
    };

    /// <summary>Pages that show what was sent, where the form leads to another one.</summary>
    private static readonly Dictionary<string, string> ShownElsewhere = new(StringComparer.Ordinal)
    {
        ["POST /plan/day day"] = "/reminders?state=booked",
        ["POST /reminders/many/put-off many"] = "/reminders?state=put-off",
        ["POST /reminders/{reminderId:guid} act=book"] = "/reminders?state=booked",
        ["POST /reminders/{reminderId:guid} act=put-off"] = "/reminders?state=put-off",
    };

    /// <summary>Writing addresses that no page sends to here.</summary>
    public static readonly Dictionary<string, string> Unpressed = new(StringComparer.Ordinal)
    {
        ["POST /api/letters/release"] = "is shown while the first letters of a practice wait: FirstLettersTests",
        ["POST /api/practice/studies/{studyId:guid}/finish"] = "is shown once a visit was traced twice",
        ["POST /horses/{HorseId:guid}/visits/new"] = "is sent where a browser runs no scripts: VisitInOneGoTests",
        ["POST /letter/{token}/cancel"] = "is shown to whoever a visit is booked for, from its letter: OwnerCancelsTests",
        ["POST /letter/{token}/day"] = "is shown to whoever a visit is booked for, from its letter: WorkingListPagesTests",
        ["POST /me/passkeys"] = "is answered by a machine's own keys, at the service's own name",
        ["POST /me/passkeys/options"] = "is answered by a machine's own keys, at the service's own name",
        ["POST /me/passkeys/remove"] = "is shown beside a passkey",
        ["POST /me/practice"] = "is shown to members of two practices",
        ["POST /me/second-factor/codes"] = "is shown once an app gives codes",
        ["POST /me/second-factor/off"] = "is shown once an app gives codes",
        ["POST /me/sign-in-services/add"] = "is shown where a sign-in service is set: SignInServiceTests",
        ["POST /me/sign-in-services/remove"] = "is shown where a sign-in service is set: SignInServiceTests",
        ["POST /practice/letters/{kind}/{language}/look"] = "is shown in a frame of its page: SettingsTests",
        ["POST /practice/webhooks/{WebhookId:guid}/start"] = "is shown once a webhook has stopped",
        ["POST /reminders/{ReminderId:guid}/book"] = "is asked where two visits clash: WorkingListPagesTests",
        ["POST /reminders/{ReminderId:guid}/write-again"] = "is asked where a letter left within the hour: WorkingListPagesTests",
        ["POST /sign-in/again"] = "is asked a quarter of an hour after signing in",
        ["POST /sign-in/code"] = "is asked once an app gives codes",
        ["POST /sign-in/recovery-code"] = "is asked once an app gives codes",
        ["POST /sign-in/passkey"] = "is answered by a machine's own keys, at the service's own name",
        ["POST /sign-in/passkey/options"] = "is answered by a machine's own keys, at the service's own name",
        ["POST /sign-in/with"] = "is shown where a sign-in service is set: SignInServiceTests",
    };

    public static string? Refusing(string form) => RefusingForms.ContainsKey(form) ? form : null;

    public static string? ShownAt(string form) => ShownElsewhere.GetValueOrDefault(form);

    public static string? Excuse(string field)
    {
        if (UnshownFields.ContainsKey(field))
            return field;
        var any = $"* {field.Split(' ')[^1]}";
        return UnshownFields.ContainsKey(any) ? any : null;
    }
}
