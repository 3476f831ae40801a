using System.Text;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>Text in memory up to a length; beyond it the template is at fault.</summary>
internal sealed class BoundedWriter(int most) : TextWriter(System.Globalization.CultureInfo.InvariantCulture)
{
    readonly StringBuilder text = new();

    public override Encoding Encoding => Encoding.Unicode;

    public override void Write(char value) => Write([value]);

    public override void Write(string? value) => Write(value.AsSpan());

    public override void Write(char[] buffer, int index, int count) => Write(buffer.AsSpan(index, count));

    public override void Write(ReadOnlySpan<char> buffer)
    {
        if (text.Length + buffer.Length > most)
            throw new LetterTemplateException($"The letter gets longer than {most} characters: is there a loop in a loop?", 0);
        text.Append(buffer);
    }

    public override Task WriteAsync(char value)
    {
        Write(value);
        return Task.CompletedTask;
    }

    public override Task WriteAsync(string? value)
    {
        Write(value);
        return Task.CompletedTask;
    }

    public override Task WriteAsync(char[] buffer, int index, int count)
    {
        Write(buffer, index, count);
        return Task.CompletedTask;
    }

    public override Task WriteAsync(ReadOnlyMemory<char> buffer, CancellationToken cancellationToken = default)
    {
        Write(buffer.Span);
        return Task.CompletedTask;
    }

    public override string ToString() => text.ToString();
}
