using BackHistory.Shape.Gauges;

namespace BackHistory.Shape.Tests;

/// <summary>What marks have to be to make a gauge, wherever they are typed, pasted or brought in.</summary>
public sealed class GaugeShapeTests
{
    [Fact]
    public void A_table_that_rises_or_falls_is_read_by_its_places_in_whatever_order_it_stands()
    {
        Assert.Empty(GaugeShape.Faults([new("3", 3, 42), new("1", 1, 30), new("2", 2, 35)]));
        Assert.Empty(GaugeShape.Faults([new("N", 0, 110), new("M", 1, 100), new("W", 2, 90)]));
        Assert.Empty(GaugeShape.Faults([new("1", 1, 30)]));
    }

    [Fact]
    public void Every_mark_at_which_a_table_turns_round_or_stands_still_is_named_with_the_one_before_it()
    {
        var faults = GaugeShape.Faults([new("4", 4, 50), new("1", 1, 30), new("2", 2, 28), new("3", 3, 28)]);

        Assert.Equal([(2, "1", false), (3, "2", false)], faults.Select(f => (f.Index, f.Before.Name, f.SamePlace)));
    }

    [Fact]
    public void Two_marks_on_one_place_are_told_apart_by_nobody()
    {
        var fault = Assert.Single(GaugeShape.Faults([new("M", 1, 30), new("W", 1, 35)]));
        Assert.Equal((1, true, "M"), (fault.Index, fault.SamePlace, fault.Before.Name));
    }

    [Fact]
    public void A_mark_lies_where_it_was_said_else_on_its_own_number_else_on_its_count()
    {
        Assert.Equal([1, 2.5, 4], GaugeShape.Places([("1", null), ("2,5", null), ("4", null)]));
        Assert.Equal([0, 1, 7], GaugeShape.Places([("N", null), ("2", null), ("W", 7.0)]));
    }
}
