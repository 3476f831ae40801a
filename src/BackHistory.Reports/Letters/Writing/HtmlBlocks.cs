namespace BackHistory.Reports.Letters.Writing;

/// <summary>The blocks of an HTML letter. Each takes the encoder and passes every text through it.</summary>
internal static class HtmlBlocks
{
    const string Font = "font-family:'Segoe UI',-apple-system,'Helvetica Neue',Arial,sans-serif;";
    const string Cell =
        "color:#1D2429;font-size:15px;line-height:1.4;padding:9px 12px 9px 0;border-bottom:1px solid "
        + "#DDE1E3;text-align:left;vertical-align:top;";
    const string Head =
        "color:#59646C;font-size:13px;font-weight:400;padding:0 12px 6px 0;border-bottom:1px solid #DDE1E3;text-align:left;";

    /// <summary>How it is known: a heading, small sentences, and the table.</summary>
    public static string Numbers(
        IReadOnlyList<string> details,
        IReadOnlyList<LetterNumber> numbers,
        LetterWords words,
        Func<string, string> e
    )
    {
        if (numbers.Count == 0 && details.Count == 0)
            return "";
        var heading =
            $"<h2 class=\"ink\" style=\"{Font}color:#1D2429;font-size:16px;line-height:1.3;font-weight:600;margin:8px 0 6px "
            + $"0;\">{e(words.Details)}</h2>\n";
        var said = string.Concat(
            details.Select(d =>
                $"<p class=\"muted\" style=\"{Font}color:#59646C;font-size:14px;line-height:1.45;margin:0 0 8px 0;\">{e(d)}</p>\n"
            )
        );
        return heading + said + (numbers.Count == 0 ? "" : Table(numbers, words, e));
    }

    static string Table(IReadOnlyList<LetterNumber> numbers, LetterWords words, Func<string, string> e)
    {
        var before = numbers.Any(n => n.Before.Length > 0);
        var rows = string.Concat(
            numbers.Select(number =>
                $"<tr><th scope=\"row\" class=\"ink line\" style=\"{Font}{Cell}font-weight:400;\">{e(number.Label)}{Limit(number, e)}</th>"
                + $"<td class=\"ink line\" "
                + $"style=\"{Font}{Cell}font-weight:600;white-space:nowrap;\">{OnPhones(words.Now, e)}{e(number.Now)}</td>"
                + (
                    before
                        ? $"<td class=\"muted line\" "
                            + $"style=\"{Font}{Cell}color:#59646C;white-space:nowrap;\">{OnPhones(words.Before, e)}{e(number.Before)}</td>"
                        : ""
                )
                + "</tr>\n"
            )
        );
        string Header(string word) => $"<th scope=\"col\" class=\"muted line\" style=\"{Font}{Head}\">{e(word)}</th>";
        return $"<table class=\"nums\" width=\"100%\" cellpadding=\"0\" cellspacing=\"0\" border=\"0\" "
            + $"style=\"width:100%;border-collapse:collapse;margin:4px 0 22px 0;\"><tr class=\"heads\">"
            + Header(words.What)
            + Header(words.Now)
            + (before ? Header(words.Before) : "")
            + $"</tr>\n{rows}</table>\n";
    }

    /// <summary>Where the columns stand under each other their headings are gone: each number carries its own.</summary>
    static string OnPhones(string word, Func<string, string> e) =>
        $"<span class=\"phone\" style=\"display:none;font-weight:400;\">{e(word)}: </span>";

    static string Limit(LetterNumber number, Func<string, string> e) =>
        number.Limit.Length == 0 ? "" : $"<br/><span class=\"muted\" style=\"color:#59646C;font-size:13px;\">{e(number.Limit)}</span>";

    /// <summary>The first answer is filled, the others are outlined; in one row, or under each other on a phone.</summary>
    public static string Answers(LetterAnswers? answers, LetterWords words, Func<string, string> e)
    {
        if (answers is null)
            return "";
        const string Button =
            $"{Font}display:block;font-size:16px;line-height:20px;padding:12px 16px;border-radius:5px;"
            + "text-align:center;text-decoration:none;";
        const string First = $"{Button}background:#0069A4;color:#FFFFFF;border:1px solid #0069A4;font-weight:600;";
        const string Second = $"{Button}color:#1D2429;border:1px solid #8A949B;";
        string One(string kind, string style, string url, string text, string padding) =>
            $"<td class=\"answer\" style=\"padding:{padding};\"><a class=\"{kind}\" href=\"{e(url)}\" style=\"{style}\">{e(text)}</a></td>";
        return "<table role=\"presentation\" width=\"100%\" cellpadding=\"0\" cellspacing=\"0\" border=\"0\" "
            + "style=\"width:100%;margin:4px 0 20px 0;\"><tr>"
            + One("first", First, answers.BookUrl, words.Book, "0 10px 0 0")
            + One("second", Second, answers.LaterUrl, words.Later, "0 10px 0 0")
            + One("second", Second, answers.NotNeededUrl, words.NotNeeded, "0")
            + "</tr></table>\n";
    }

    public static string Link(LetterLink? link, Func<string, string> e) =>
        link is null
            ? ""
            : $"<p style=\"{Font}font-size:16px;line-height:20px;margin:0 0 20px 0;\"><a class=\"first\" href=\"{e(link.Url)}\" "
                + $"style=\"{Font}display:inline-block;background:#0069A4;color:#FFFFFF;font-weight:600;padding:12px "
                + $"18px;border-radius:5px;text-decoration:none;\">{e(link.Text)}</a></p>\n";

    public static string Cautions(IReadOnlyList<string> cautions, LetterWords words, Func<string, string> e) =>
        cautions.Count == 0
            ? ""
            : $"<table role=\"presentation\" width=\"100%\" cellpadding=\"0\" cellspacing=\"0\" border=\"0\" "
                + $"style=\"width:100%;margin:4px 0 20px 0;\"><tr><td class=\"care ink\" "
                + $"style=\"{Font}color:#1D2429;background:#FBF3E6;border-left:4px solid "
                + $"#D55E00;font-size:15px;line-height:1.5;padding:14px 16px;\"><strong>{e(words.TakeCare)}</strong>"
                + string.Concat(cautions.Select(c => $"<br/>{e(c)}"))
                + "</td></tr></table>\n";

    public static string Groups(IReadOnlyList<LetterGroup> groups, LetterWords words, Func<string, string> e) =>
        groups.Count == 0
            ? $"<p class=\"ink\" style=\"{Font}color:#1D2429;font-size:16px;margin:0 0 16px 0;\">{e(words.Nothing)}</p>\n"
            : string.Concat(groups.Select(g => Group(g, words, e)));

    static string Group(LetterGroup group, LetterWords words, Func<string, string> e)
    {
        var note =
            group.Note.Length > 0
                ? $"<p class=\"muted\" style=\"{Font}color:#59646C;font-size:14px;line-height:1.4;margin:0 0 8px 0;\">{e(group.Note)}</p>\n"
                : "";
        var rows =
            group.Items.Count == 0
                ? $"<tr><td class=\"muted line\" style=\"{Font}{Cell}color:#59646C;\">{e(words.Nothing)}</td></tr>\n"
                : string.Concat(group.Items.Select(i => Item(i, e)));
        return $"<h2 class=\"ink\" style=\"{Font}color:#1D2429;font-size:18px;line-height:1.3;font-weight:600;margin:8px 0 6px "
            + $"0;\">{e(group.Title)}</h2>\n{note}"
            + $"<table role=\"presentation\" class=\"items\" width=\"100%\" cellpadding=\"0\" cellspacing=\"0\" border=\"0\" "
            + $"style=\"width:100%;border-collapse:collapse;margin:0 0 22px 0;\">\n{rows}</table>\n";
    }

    static string Item(LetterItem item, Func<string, string> e)
    {
        var title = item.Url is { } url
            ? $"<a class=\"link\" href=\"{e(url)}\" style=\"color:#005A8C;font-weight:600;\">{e(item.Title)}</a>"
            : $"<strong>{e(item.Title)}</strong>";
        var trail =
            item.Trail.Length > 0 ? $"<br/><span class=\"muted\" style=\"color:#59646C;font-size:14px;\">{e(item.Trail)}</span>" : "";
        return $"<tr><td class=\"ink line\" style=\"{Font}{Cell}\">{title}<br/>{e(item.Detail)}{trail}</td>"
            + $"<td class=\"muted line\" "
            + $"style=\"{Font}{Cell}color:#59646C;padding-right:0;text-align:right;white-space:nowrap;\">{e(item.When)}</td></tr>\n";
    }
}
