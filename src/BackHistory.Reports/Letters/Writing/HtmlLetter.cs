using System.Globalization;
using System.Reflection;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using BackHistory.Reports.Letters.Content;
using Fluid;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>The HTML part, by the layout that lies beside the templates. It encodes every text; nothing else writes content.</summary>
internal static class HtmlLetter
{
    /// <summary>CSS pixels of the column, without its margins.</summary>
    const int WidestPicture = 552;

    static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    static readonly IFluidTemplate Layout = Read("BackHistory.Reports.Letters.Layout.Letter.liquid");

    static readonly TemplateOptions Options = new()
    {
        // Only our own layout is carried out with them, over our own records.
        MemberAccessStrategy = new UnsafeMemberAccessStrategy { MemberNameStrategy = MemberNameStrategies.CamelCase },
        CultureInfo = CultureInfo.InvariantCulture,
    };

    public static string Write(string subject, IReadOnlyList<BodyPart> body, LetterModel content, LetterWords words)
    {
        var context = new TemplateContext(Options);
        context.SetValue("tag", content.Language.Tag);
        context.SetValue("subject", subject);
        context.SetValue("content", content);
        context.SetValue("words", words);
        context.SetValue("compared", content.Numbers.Any(n => n.Before.Length > 0));
        context.SetValue("parts", body.Select(p => HtmlPart.From(p, content)).ToList());
        using var html = new StringWriter(CultureInfo.InvariantCulture);
        // Everything given is in memory, so nothing is ever waited for.
        Layout.RenderAsync(html, Encoder, context).AsTask().GetAwaiter().GetResult();
        return html.ToString().Replace("\r\n", "\n", StringComparison.Ordinal);
    }

    static IFluidTemplate Read(string name)
    {
        using var stream =
            Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not in the program.");
        using var reader = new StreamReader(stream);
        return new FluidParser().Parse(reader.ReadToEnd());
    }

    /// <summary>One part as the layout sees it.</summary>
    sealed record HtmlPart(string Mark, IReadOnlyList<string> Lines, LetterImage? Image, int Width)
    {
        public static HtmlPart From(BodyPart part, LetterModel content)
        {
            var image =
                part.Mark == BodyMark.Back ? content.Back
                : part.Mark == BodyMark.Chart ? content.Chart
                : null;
            return new HtmlPart(part.Mark.ToString(), part.Text.Split('\n'), image, Math.Min(image?.Width ?? 0, WidestPicture));
        }
    }
}
