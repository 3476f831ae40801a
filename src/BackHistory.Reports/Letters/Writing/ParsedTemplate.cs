using System.Globalization;
using System.Text.RegularExpressions;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;
using Fluid;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>A template read by the sandboxed Liquid parser: no files, no assignment, no filters that grow text, few steps, short
/// output.</summary>
internal sealed partial class ParsedTemplate
{
    const int LongestSource = 20_000;
    const int LongestBody = 60_000;
    const int MostSteps = 5_000;
    const string SubjectStart = "Subject:";

    static readonly BodyMark[] Marks =
    [
        BodyMark.Back,
        BodyMark.Chart,
        BodyMark.Numbers,
        BodyMark.Answers,
        BodyMark.Groups,
        BodyMark.Link,
        BodyMark.Cautions,
    ];

    static readonly FluidParser Parser = NewParser();

    readonly string source;
    readonly IFluidTemplate subject;
    readonly IFluidTemplate body;

    ParsedTemplate(string source, IFluidTemplate subject, IFluidTemplate body) =>
        (this.source, this.subject, this.body) = (source, subject, body);

    /// <exception cref="LetterTemplateException">It cannot be used.</exception>
    public static ParsedTemplate Parse(string source, LetterKind kind)
    {
        if (source.Length > LongestSource)
            throw new LetterTemplateException($"The template is {source.Length} characters long; {LongestSource} are the most.", 0);
        if (source.AsSpan().ContainsAny(LetterBody.Open, LetterBody.Close))
            throw new LetterTemplateException(
                "The template holds a character that no font knows (private use).",
                LineOf(source, source.AsSpan().IndexOfAny(LetterBody.Open, LetterBody.Close))
            );
        var lines = source.Replace("\r\n", "\n", StringComparison.Ordinal).Split('\n');
        if (!lines[0].StartsWith(SubjectStart, StringComparison.OrdinalIgnoreCase) || lines[0].Length == SubjectStart.Length)
            throw new LetterTemplateException("The first line must be the subject, as in “Subject: Time to have the saddle looked at”.", 1);
        // An empty first line keeps the line numbers of the body as the editor sees them.
        var template = new ParsedTemplate(
            source,
            ParsePart(lines[0][SubjectStart.Length..].Trim()),
            ParsePart("\n" + string.Join('\n', lines[1..]))
        );
        foreach (var mark in Requirements.MarksOf(kind).Where(m => !HasMark(source, m)))
            throw new LetterTemplateException($"This letter needs {{% {Name(mark)} %}} on a line of its own.", 0);
        template.TryNames();
        return template;
    }

    static bool HasMark(string source, BodyMark mark) =>
        Regex.IsMatch(source, $@"\{{%-?\s*{Name(mark)}\s*-?%\}}", RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking);

    static IFluidTemplate ParsePart(string text)
    {
        if (Parser.TryParse(text, out var template, out var error))
            return NoCounting.Checked(template);
        error = error.Split("\nSource:")[0];
        var place = ErrorPlace().Match(error);
        throw new LetterTemplateException(
            ErrorPlace().Replace(error, "").Trim(),
            place.Success ? int.Parse(place.Groups["line"].ValueSpan, CultureInfo.InvariantCulture) : 0
        );
    }

    /// <summary>A dry run with everything filled in finds names that do not exist before a letter has to be sent.</summary>
    void TryNames()
    {
        var content = Requirements.Example;
        _ = Subject(content);
        _ = Body(content);
    }

    public string Subject(LetterModel content)
    {
        var text = Render(
            subject,
            Names.OfSubject(content),
            "In the subject only “horse”, “date” and “count” can be used, it may be read over a shoulder"
        );
        var one = Charts.Drawing.Printable.Clean(text);
        return one.Length is > 0 and <= 120
            ? one
            : throw new LetterTemplateException("The subject must have between 1 and 120 characters.", 1);
    }

    public string Body(LetterModel content) => Render(body, Names.OfBody(content), "This name is not known");

    string Render(IFluidTemplate template, IReadOnlyDictionary<string, object> names, string unknown)
    {
        var context = new TemplateContext(NewOptions());
        foreach (var (name, value) in names)
            context.SetValue(name, value);
        var output = new BoundedWriter(LongestBody);
        try
        {
            // Everything given is in memory, so nothing is ever waited for.
            template.RenderAsync(output, NullEncoder.Default, context).AsTask().GetAwaiter().GetResult();
        }
        catch (FluidException wrong)
        {
            var named = Undefined().Match(wrong.Message);
            // A part behind a dot is reported by the parser's own type, not by its name.
            throw !named.Success ? new LetterTemplateException(wrong.Message, 0)
            : named.Groups["name"].Value.StartsWith("Fluid.", StringComparison.Ordinal)
                ? new LetterTemplateException($"{unknown}: something behind a dot.", 0)
            : new LetterTemplateException($"{unknown}: {named.Groups["name"].Value}.", LineOf(named.Groups["name"].Value));
        }
        catch (Exception other) when (other is not LetterTemplateException)
        {
            throw new LetterTemplateException($"The template cannot be carried out: {other.Message}", 0);
        }
        return output.ToString();
    }

    int LineOf(string name)
    {
        var found = Regex.Match(source, $@"\b{Regex.Escape(name.Split('.')[^1])}\b", RegexOptions.NonBacktracking);
        return found.Success ? LineOf(source, found.Index) : 0;
    }

    static int LineOf(string text, int index) => text.AsSpan(0, index).Count('\n') + 1;

    static string Name(BodyMark mark) => mark.ToString().ToLowerInvariant();

    static FluidParser NewParser()
    {
        var parser = new FluidParser();
        string[] kept = ["if", "unless", "case", "for", "break", "continue", "comment"];
        foreach (var tag in parser.RegisteredTags.Keys.Except(kept, StringComparer.Ordinal).ToList())
            parser.RegisteredTags.Remove(tag);
        foreach (var mark in Marks)
        {
            parser.RegisterEmptyTag(
                Name(mark),
                (writer, _, _) =>
                {
                    writer.Write($"{LetterBody.Open}{mark}{LetterBody.Close}");
                    return ValueTask.FromResult(Fluid.Ast.Completion.Normal);
                }
            );
        }
        parser.RegisterEmptyBlock(
            "lead",
            async (statements, writer, encoder, context) =>
            {
                writer.Write($"{LetterBody.Open}Lead{LetterBody.Close}");
                foreach (var statement in statements)
                    await statement.WriteToAsync(writer, encoder, context);
                writer.Write($"{LetterBody.Open}/Lead{LetterBody.Close}");
                return Fluid.Ast.Completion.Normal;
            }
        );
        return parser;
    }

    static TemplateOptions NewOptions()
    {
        var options = new TemplateOptions
        {
            MaxSteps = MostSteps,
            MaxRecursion = 20,
            StrictVariables = true,
            StrictFilters = true,
            CultureInfo = CultureInfo.InvariantCulture,
        };
        string[] kept = ["size", "first", "last", "upcase", "downcase", "capitalize"];
        foreach (var filter in options.Filters.Select(f => f.Key).Except(kept, StringComparer.Ordinal).ToList())
            options.Filters.Remove(filter);
        // No clock: the letter's date is given.
        options.Now = () => DateTimeOffset.UnixEpoch;
        return options;
    }

    [GeneratedRegex("^Undefined (variable|filter) '(?<name>.+)'", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex Undefined();

    [GeneratedRegex(@"\s*at \((?<line>\d+):\d+\)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: Timeout.Infinite)]
    private static partial Regex ErrorPlace();
}
