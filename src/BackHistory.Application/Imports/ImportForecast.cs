using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What taking an import back would do, as things stand.</summary>
/// <param name="Goes">How many of what would be withdrawn.</param>
/// <param name="Stays">What would stay, by its line.</param>
/// <param name="Looked">How many lines were looked at; the rest is decided when it is taken back.</param>
public sealed record ImportForecast(IReadOnlyDictionary<MadeAs, int> Goes, IReadOnlyList<ImportForecast.Kept> Stays, int Looked, int Lines)
{
    /// <param name="Who">The horse or saddle of the line.</param>
    public sealed record Kept(int Line, string? Who, string Why);
}
