using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>
/// The HTML part: one column of 600 px in tables with inline styles, which old mail programs understand; a style block lets newer ones
/// narrow it and darken it. Every text passes through <see cref="E"/>; nothing else writes content.
/// </summary>
internal static class HtmlLetter
{
    const string Font = "font-family:'Segoe UI',-apple-system,'Helvetica Neue',Arial,sans-serif;";
    const string Ink = "color:#1D2429;";
    const string Muted = "color:#59646C;";
    const string Body = $"{Font}{Ink}font-size:16px;line-height:1.55;margin:0 0 16px 0;";

    static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    const string Style = """
        body{margin:0;padding:0}
        @media (max-width:620px){
        .page{width:100%!important}
        .pad{padding-left:20px!important;padding-right:20px!important}
        .answer{display:block!important;width:auto!important;padding:0 0 10px 0!important}
        .nums tr,.nums th,.nums td{display:block!important}
        .nums th{border:0!important;padding-bottom:0!important}
        .nums td{padding:2px 0!important;white-space:normal!important}
        .nums td+td{padding-bottom:10px!important}
        .nums td:nth-child(2){border:0!important}
        .nums .heads{display:none!important}
        .items tr,.items td{display:block!important}
        .items td:first-child{border:0!important;padding-bottom:2px!important}
        .items td+td{text-align:left!important;padding-top:0!important}
        .phone{display:inline!important}
        }
        @media (prefers-color-scheme:dark){
        .ground{background:#101315!important}
        .card{background:#1B2024!important}
        .ink{color:#EEF1F2!important}
        .muted{color:#A9B3B9!important}
        .line{border-color:#3A434A!important}
        .care{background:#2A2622!important}
        .second{color:#EEF1F2!important;border-color:#6B767D!important}
        .first{background:#26709F!important}
        .link{color:#8CC8F0!important}
        .picture{background:#FFFFFF!important}
        }
        """;

    static string E(string text) => Encoder.Encode(text);

    public static string Write(string subject, IReadOnlyList<BodyPart> body, LetterContent content, LetterWords words)
    {
        var html = new StringBuilder();
        html.Append(
            CultureInfo.InvariantCulture,
            $"""
            <!DOCTYPE html>
            <html lang="{content.Language.Tag}"><head><meta charset="utf-8"/>
            <meta name="viewport" content="width=device-width,initial-scale=1"/>
            <meta name="color-scheme" content="light dark"/>
            <meta name="supported-color-schemes" content="light dark"/>
            <title>{E(
                subject
            )}</title><style>{Style}</style></head>
            <body class="ground" style="margin:0;padding:0;background:#F3F4F2;">
            <table role="presentation" width="100%" cellpadding="0" cellspacing="0" border="0" class="ground"
             style="background:#F3F4F2;"><tr><td align="center" style="padding:24px 0;">
            <table role="presentation" class="page" width="600" cellpadding="0" cellspacing="0" border="0"
             style="width:600px;max-width:100%;">
            <tr><td class="pad muted" style="{Font}{Muted}font-size:14px;padding:0 24px 12px 24px;">{E(content.PracticeName)}</td></tr>
            <tr><td class="card pad" style="background:#FFFFFF;padding:28px 24px 16px 24px;border-radius:6px;">

            """
        );
        foreach (var part in body)
            html.Append(Part(part, content, words));
        html.Append(
            CultureInfo.InvariantCulture,
            $"""
            </td></tr>
            <tr><td class="pad muted" style="{Font}{Muted}font-size:13px;line-height:1.5;padding:16px 24px 0 24px;">{E(
                content.PracticeName
            )}{(content.PracticeContact.Length > 0 ? $"<br/>{E(content.PracticeContact)}" : "")}<br/><br/>{E(
                words.WhyYou
            )}<br/><a class="link" href="{E(content.UnsubscribeUrl)}" style="color:#005A8C;">{E(words.Unsubscribe)}</a></td></tr>
            </table></td></tr></table></body></html>

            """
        );
        return html.ToString().Replace("\r\n", "\n", StringComparison.Ordinal);
    }

    static string Part(BodyPart part, LetterContent content, LetterWords words) =>
        part.Mark switch
        {
            BodyMark.Lead => $"<h1 class=\"ink\" style=\"{Font}{Ink}font-size:22px;line-height:1.3;font-weight:600;margin:0 0 18px "
                + $"0;\">{Lines(part.Text)}</h1>\n",
            BodyMark.Paragraph => $"<p class=\"ink\" style=\"{Body}\">{Lines(part.Text)}</p>\n",
            BodyMark.Back => Picture(content.Back),
            BodyMark.Chart => Picture(content.Chart),
            BodyMark.Numbers => HtmlBlocks.Numbers(content.Details, content.Numbers, words, E),
            BodyMark.Answers => HtmlBlocks.Answers(content.Answers, words, E),
            BodyMark.Link => HtmlBlocks.Link(content.Link, E),
            BodyMark.Groups => HtmlBlocks.Groups(content.Groups, words, E),
            BodyMark.Cautions => HtmlBlocks.Cautions(content.Cautions, words, E),
            _ => "",
        };

    static string Lines(string text) => string.Join("<br/>", text.Split('\n').Select(E));

    static string Picture(LetterImage? image) =>
        image is null
            ? ""
            : string.Create(
                CultureInfo.InvariantCulture,
                $"<img class=\"picture\" src=\"cid:{E(image.ContentId)}\" width=\"{Math.Min(image.Width, 552)}\" "
                    + $"alt=\"{E(image.AltText)}\" "
                    + $"style=\"display:block;width:100%;max-width:{Math.Min(image.Width, 552)}px;height:auto;border:0;"
                    + $"border-radius:4px;margin:4px 0 20px 0;{Font}{Muted}font-size:13px;\"/>\n"
            );
}
