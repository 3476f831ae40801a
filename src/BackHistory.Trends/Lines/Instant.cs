using System.Globalization;
using BackHistory.Trends.Series;

namespace BackHistory.Trends.Lines;

/// <summary>Dates as they stand in a line: a date (midnight UTC) or a date-time with offset (RFC 3339; seconds may be left out).</summary>
internal static class Instant
{
    internal static bool TryParse(string text, out double day)
    {
        day = 0;
        if (text.Length == 10)
        {
            if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date))
                return false;
            day = Days.DayNumber(date);
            return true;
        }
        if (text.Length < 17 || text[10] is not ('T' or 't' or ' '))
            return false;
        if (!TryOffset(text, out var clockLength, out var offset))
            return false;
        // A clock tells tenths of a microsecond; RFC 3339 allows any number of digits, and those beyond are no time that anybody measured.
        var point = text.IndexOf('.', StringComparison.Ordinal);
        var told =
            point >= 0 && clockLength - point > 8 && text.AsSpan(point + 1, clockLength - point - 1).IndexOfAnyExceptInRange('0', '9') < 0
                ? point + 8
                : clockLength;
        if (
            !DateTime.TryParseExact(
                string.Concat(text.AsSpan(0, 10), "T", text.AsSpan(11, told - 11)),
                Clocks,
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var local
            )
        )
            return false;
        day = (local.Ticks - offset.Ticks - DateTime.UnixEpoch.Ticks) / (double)TimeSpan.TicksPerDay;
        return true;
    }

    static readonly string[] Clocks =
    [
        .. new[] { "", ":ss" }.Concat(Enumerable.Range(1, 7).Select(n => ":ss." + new string('f', n))).Select(s => "yyyy-MM-ddTHH:mm" + s),
    ];

    static bool TryOffset(string text, out int clockLength, out TimeSpan offset)
    {
        offset = TimeSpan.Zero;
        clockLength = text.Length - 1;
        if (text[^1] is 'Z' or 'z')
            return true;
        clockLength = text.Length - 6;
        var sign = text[clockLength];
        if (sign is not ('+' or '-') || clockLength < 16)
            return false;
        if (!TimeSpan.TryParseExact(text.AsSpan(clockLength + 1), "hh\\:mm", CultureInfo.InvariantCulture, out offset))
            return false;
        if (sign == '-')
            offset = -offset;
        return true;
    }
}
