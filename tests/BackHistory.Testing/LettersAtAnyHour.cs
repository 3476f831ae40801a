using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Store;

namespace BackHistory.Testing;

/// <summary>A practice that writes at any hour of any day: a test runs when it runs.</summary>
public static class LettersAtAnyHour
{
    /// <summary>Its first letters may go, and it keeps no quiet times.</summary>
    /// <param name="at">When that was decided, by the practice's own clock.</param>
    public static async Task LettersLeaveAtAnyHour(this Commands commands, string tenant, Guid practiceId, DateTimeOffset at)
    {
        var rules = ReminderRules.Default with { Letters = ReminderRules.Default.Letters with { KeepQuiet = false } };
        CommandContext Context(string key) => new(tenant, Guid.Empty, key, "", null, at);
        await commands.Execute<Practice>(
            Context("write at any hour"),
            practiceId,
            p => PracticeDecider.Decide(p, new ChangeReminderRules(rules, "Tests run at any hour.", Guid.Empty), at),
            CancellationToken.None
        );
        await commands.Execute<Practice>(
            Context("let letters go"),
            practiceId,
            p => PracticeDecider.Decide(p, new ReleaseLetters(Guid.Empty), at),
            CancellationToken.None
        );
    }
}
