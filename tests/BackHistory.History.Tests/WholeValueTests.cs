using System.Collections.Immutable;

namespace BackHistory.History.Tests;

public sealed class WholeValueTests
{
    public enum Side
    {
        Left,
        Right,
    }

    public sealed record Inner(string Name, Side Side);

    public sealed record Outer(
        string Text,
        Side? Chosen,
        IReadOnlyList<Inner> Parts,
        IReadOnlyDictionary<Side, Inner> BySide,
        ImmutableArray<int> Numbers,
        Inner? Maybe
    );

    private static readonly Inner One = new("one", Side.Left);

    private static readonly Outer Whole = new("text", null, [One], new Dictionary<Side, Inner> { [Side.Left] = One }, [], null);

    [Fact]
    public void What_is_whole_lacks_nothing_though_what_may_be_left_out_is()
    {
        Assert.Null(WholeValue.FirstMissing(Whole));
        Assert.Null(WholeValue.FirstUnlisted(Whole));
    }

    [Fact]
    public void What_is_missing_is_named_by_its_path_however_deep_it_lies()
    {
        Assert.Equal("text", WholeValue.FirstMissing(Whole with { Text = null! }));
        Assert.Equal("parts", WholeValue.FirstMissing(Whole with { Parts = null! }));
        Assert.Equal("parts[1]", WholeValue.FirstMissing(Whole with { Parts = [One, null!] }));
        Assert.Equal("parts[0].name", WholeValue.FirstMissing(Whole with { Parts = [new Inner(null!, Side.Left)] }));
        Assert.Equal("numbers", WholeValue.FirstMissing(Whole with { Numbers = default }));
        Assert.Equal("maybe.name", WholeValue.FirstMissing(Whole with { Maybe = new Inner(null!, Side.Left) }));
    }

    [Fact]
    public void A_missing_text_may_be_read_as_an_empty_one()
    {
        var sent = Whole with { Text = null! };
        Assert.Null(WholeValue.FirstMissing(sent, fillTexts: true));
        Assert.Equal("", sent.Text);
    }

    [Fact]
    public void A_value_that_is_in_no_list_is_named_with_its_number()
    {
        Assert.StartsWith("'chosen' is 7,", WholeValue.FirstUnlisted(Whole with { Chosen = (Side)7 }), StringComparison.Ordinal);
        Assert.StartsWith(
            "'parts[0].side' is 99,",
            WholeValue.FirstUnlisted(Whole with { Parts = [One with { Side = (Side)99 }] }),
            StringComparison.Ordinal
        );
        var odd = new Dictionary<Side, Inner> { [(Side)5] = One };
        Assert.StartsWith("'bySide' is 5,", WholeValue.FirstUnlisted(Whole with { BySide = odd }), StringComparison.Ordinal);
    }
}
