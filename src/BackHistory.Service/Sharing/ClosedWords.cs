namespace BackHistory.Service.Sharing;

/// <summary>The same in a person's words.</summary>
public static class ClosedWords
{
    public static (string Title, string Text) Explain(Closed why, ReportLanguage language) =>
        why switch
        {
            Closed.Ended => (language["closed-page.ended"], language["closed-page.ended.why"]),
            Closed.TakenBack => (language["closed-page.taken-back"], language["closed-page.taken-back.why"]),
            Closed.OtherOwner => (language["closed-page.other-owner"], language["closed-page.other-owner.why"]),
            Closed.OtherDevice => (language["closed-page.other-device"], language["closed-page.other-device.why"]),
            Closed.FirstDevice => (language["closed-page.first-device"], language["closed-page.first-device.why"]),
            _ => (language["closed-page.no-link"], language["closed-page.no-link.why"]),
        };

    /// <summary>Of what is shared with an account, where there is no link that could be wrong.</summary>
    public static (string Title, string Text) ExplainGrant(Closed why, ReportLanguage language) =>
        why switch
        {
            Closed.NotOurs => (language["closed-page.nothing-here"], language["closed-page.nothing-here.why"]),
            Closed.Ended => (language["closed-page.grant-ended"], language["closed-page.grant-ended.why"]),
            _ => Explain(why, language),
        };
}
