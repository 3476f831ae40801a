using System.Globalization;
using BackHistory.History.Saddles;

namespace BackHistory.Service.Saddles;

/// <summary>What was done to a saddle and what lies under it, in a line.</summary>
internal static class SaddleWords
{
    public static string Kind(SaddleWork work) =>
        work switch
        {
            { Flocking: { } f } => f.Whole ? $"Flocked anew, with {f.Material}" : $"Flocking added, {f.Material}",
            { Set: true, Fresh: true } => "Set, new or flocked anew",
            { Set: true } => "Set",
            { Fresh: true } => "Altered, new or flocked anew",
            _ => "Altered",
        };

    public static string Part(Adjustment a)
    {
        if (a.Part == Adjustment.Note)
            return $"Note: {a.To}";
        var part = a.Side is null ? a.Part : $"{a.Part}, {a.Side}";
        var from = a.From is null ? "" : $"{a.From} → ";
        var because = a.Because is null ? "" : $" (proposed {a.Proposed}; {a.Because})";
        return $"{part}: {from}{a.To}{because}";
    }

    public static string Pad(PadInUse pad) =>
        pad.Shims.Count == 0 ? pad.Pad : $"{pad.Pad}, with shims {string.Join(", ", pad.Shims.Select(Shim))}";

    private static string Shim(Shim s)
    {
        var side = s.Side is null ? "" : $" {s.Side}";
        return string.Create(CultureInfo.InvariantCulture, $"{s.Place}{side} {s.ThicknessMm:0.##} mm");
    }
}
