using BackHistory.Application.Imports;
using BackHistory.History;

namespace BackHistory.Application.Tests.Imports;

/// <summary>Which names are asked about.</summary>
public sealed class AlikeNamesTests
{
    private static readonly AlikeNames Known = new([
        (DeterministicId.From("m"), "Müller Anna", "Müller Anna"),
        (DeterministicId.From("b"), "Bramble", "Bramble, born 2015"),
        (DeterministicId.From("7"), "Horse 7", "Horse 7"),
        (DeterministicId.From("j"), "Jim", "Jim"),
    ]);

    [Theory]
    [InlineData("Mueller Anna")]
    [InlineData("MULLER ANNA")]
    [InlineData("Müler Anna")]
    [InlineData("Bramle")]
    [InlineData("Brambles")]
    [InlineData("Brambel")]
    [InlineData("Grambles", false)]
    // Known itself, but for capitals.
    [InlineData("bramble", false)]
    [InlineData("Horse 8", false)]
    [InlineData("Horse 77", false)]
    [InlineData("Tim", false)]
    public void Another_spelling_and_one_letter_more_less_or_changed_are_alike_and_another_number_is_not(string name, bool alike = true) =>
        Assert.Equal(alike, Known.Find(name).Count == 1);
}
