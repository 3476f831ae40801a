using System.Text.RegularExpressions;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>When a form's turn comes: what ends things comes after what they are needed for, and signing out last.</summary>
internal static partial class FormOrder
{
    public static int Late(string form) =>
        form.Contains("/sign-out", StringComparison.Ordinal) ? 10
        : form.Contains("/me/address", StringComparison.Ordinal) ? 9
        : form.Contains("/me/sessions/", StringComparison.Ordinal) ? 7
        : form.StartsWith("GET ", StringComparison.Ordinal) || form.Contains("/care/{NoteId:guid}/end", StringComparison.Ordinal) ? 1
        : form.Contains("/plan", StringComparison.Ordinal) ? 4
        : form.Contains("EntryId:guid}/withdraw", StringComparison.Ordinal) ? 4
        : form.Contains("VisitId:guid}/merge", StringComparison.Ordinal) ? 5
        : form.Contains("VisitId:guid}/give", StringComparison.Ordinal) ? 6
        : form.Contains("VisitId:guid}/send-back", StringComparison.Ordinal) || Many().IsMatch(form) ? 3
        : Account().IsMatch(form) ? 8
        : Grave().IsMatch(form) || Rules().IsMatch(form) ? 7
        : Ends().IsMatch(form) ? 6
        : form.Contains("act=", StringComparison.Ordinal) ? 3
        : 2;

    /// <summary>Before each reminder by itself, which ends those that could be ticked.</summary>
    [GeneratedRegex("^POST /reminders/many/", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Many();

    /// <summary>Other rules withdraw reminders, on whose forms there is something to be pressed before.</summary>
    [GeneratedRegex("^PUT /api/(reminder-rules|thresholds|practice/protocol)", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Rules();

    [GeneratedRegex("/(me|sign-in|practice/members)/?", RegexOptions.ExplicitCapture, Timeout.Infinite)]
    private static partial Regex Account();

    [GeneratedRegex(
        @"(HorseId:guid\}|SaddleId:guid\})/(withdraw|merge|sell)|/erase|VisitId:guid\}/withdraw|/yards/.*/remove",
        RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex Grave();

    [GeneratedRegex("withdraw|remove|/end|take-back|retire|take-off|close|act=done|finish|cancel", RegexOptions.None, Timeout.Infinite)]
    private static partial Regex Ends();
}
