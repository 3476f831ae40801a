using System.Globalization;

namespace BackHistory.Formats;

/// <summary>Numbers as SVG writes them: `1-2.5.5` are three, separated by nothing, white space or one comma.</summary>
internal sealed class NumberScanner(string text)
{
    private int at;

    internal bool AtEnd
    {
        get
        {
            while (at < text.Length && (char.IsWhiteSpace(text[at]) || text[at] == ','))
                at++;
            return at >= text.Length;
        }
    }

    /// <summary>The next character when it is a letter, which is then passed over.</summary>
    internal char? Letter() => !AtEnd && char.IsAsciiLetter(text[at]) ? text[at++] : null;

    internal bool Skip(char c)
    {
        if (AtEnd || text[at] != c)
            return false;
        at++;
        return true;
    }

    /// <summary>A flag of an arc: one digit, which may stand right before the next number.</summary>
    internal bool Flag()
    {
        if (!AtEnd && text[at] is '0' or '1')
            return text[at++] == '1';
        throw ImportException.Unreadable("An arc of the drawing has a flag that is neither 0 nor 1.");
    }

    internal double Number()
    {
        if (AtEnd)
            throw ImportException.Unreadable("The drawing breaks off where a number is due.");
        var start = at;
        if (text[at] is '+' or '-')
            at++;
        Digits();
        if (at < text.Length && text[at] == '.')
        {
            at++;
            Digits();
        }
        if (at < text.Length && text[at] is 'e' or 'E')
        {
            var mark = at++;
            if (at < text.Length && text[at] is '+' or '-')
                at++;
            if (at >= text.Length || !char.IsAsciiDigit(text[at]))
                at = mark;
            else
                Digits();
        }
        return double.TryParse(text.AsSpan(start, at - start), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ImportException.Unreadable("The drawing has something else where a number is due.");
    }

    private void Digits()
    {
        while (at < text.Length && char.IsAsciiDigit(text[at]))
            at++;
    }
}
