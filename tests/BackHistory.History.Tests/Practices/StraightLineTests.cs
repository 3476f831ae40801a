using BackHistory.History.Practices;

namespace BackHistory.History.Tests.Practices;

/// <summary>Distances as the crow flies, against closed forms of the sphere and one published geodesic.</summary>
public sealed class StraightLineTests
{
    [Fact]
    public void A_quarter_of_the_way_round_is_a_quarter_of_the_circumference()
    {
        var quarter = Math.PI / 2 * StraightLine.EarthRadiusKm;
        Assert.Equal(quarter, StraightLine.Km(0, 0, 0, 90), 6);
        Assert.Equal(quarter, StraightLine.Km(0, 17, 90, 0), 6);
        Assert.Equal(2 * quarter, StraightLine.Km(12, 34, -12, -146), 6);
    }

    [Fact]
    public void One_place_is_no_distance_from_itself_and_the_way_back_is_as_long()
    {
        Assert.Equal(0, StraightLine.Km(52.5, 13.4, 52.5, 13.4));
        Assert.Equal(StraightLine.Km(52.5, 13.4, 48.1, 11.6), StraightLine.Km(48.1, 11.6, 52.5, 13.4), 9);
    }

    /// <summary>Flinders Peak to Buninyong on the ellipsoid: 54 972.271 m (the worked example of the GDA2020 technical manual, Vincenty's
    /// formulae; from memory). The sphere may err by 0.6 %.</summary>
    [Fact]
    public void It_is_within_the_error_of_the_sphere_of_a_published_geodesic()
    {
        var km = StraightLine.Km(-37.951033417, 144.424867889, -37.652821139, 143.926495528);
        Assert.InRange(km, 54.972 * 0.994, 54.972 * 1.006);
    }

    [Fact]
    public void Where_a_yard_has_no_place_no_distance_is_said()
    {
        var known = new Yard(Guid.Empty, "Known", null) { Latitude = 1, Longitude = 2 };
        Assert.Null(StraightLine.Km(known, new Yard(Guid.Empty, "Unknown", null)));
        Assert.Null(StraightLine.Km(null, known));
        Assert.Equal(0, StraightLine.Km(known, known));
    }
}
