using BackHistory.History.Reminders;

namespace BackHistory.Language.Reminders;

/// <summary>What the kinds of letters are called.</summary>
public static class LetterNames
{
    /// <summary>As addresses and texts name it: <c>owner-refit</c>.</summary>
    public static string Key(LetterKind kind) =>
        string.Concat(
            kind.ToString().Select((c, i) => char.IsUpper(c) ? $"{(i == 0 ? "" : "-")}{char.ToLowerInvariant(c)}" : c.ToString())
        );

    /// <summary>To whom it goes and what for.</summary>
    public static string Purpose(LetterKind kind, ReportLanguage language = default) => language[$"letter-kind.{Key(kind)}.purpose"];

    /// <summary>What it says, in a few words.</summary>
    public static string Short(LetterKind kind, ReportLanguage language = default) => language[$"letter-kind.{Key(kind)}.short"];
}
