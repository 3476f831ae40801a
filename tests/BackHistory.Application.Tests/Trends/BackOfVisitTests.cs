using BackHistory.Application.Trends;
using BackHistory.History.Horses;
using BackHistory.History.Practices;
using BackHistory.Shape;
using BackHistory.Testing;

namespace BackHistory.Application.Tests.Trends;

/// <summary>Stations of a practice's own lie where its protocol, or its topline, has them.</summary>
public sealed class BackOfVisitTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private static readonly Station[] Own = [new("Loin", "three hands behind the girth", 300), new("Girth", "where the girth lies", 60)];

    [Fact]
    public async Task Without_a_topline_a_station_of_ones_own_lies_where_the_protocol_has_it()
    {
        var back = await Loaded("own by protocol", topline: null);

        Assert.Equal([("Girth", 60), ("Loin", 300)], back.Sections.Select(s => (s.Station, s.FromDatum)).Order());
        Assert.True(back.Assumed);
        Assert.NotNull(back.Surface);
    }

    [Fact]
    public async Task A_topline_that_marks_no_shoulder_places_the_stations_of_ones_own_by_each_other()
    {
        var topline = Backs.Topline(30);
        topline = topline with
        {
            Marks = new Dictionary<string, Point>(topline.Marks) { ["Girth"] = topline.Points[14], ["Loin"] = topline.Points[39] },
        };

        var back = await Loaded("own by topline", topline);

        // Measured 250 mm apart; agreed were 240.
        var places = back.Sections.ToDictionary(s => s.Station, s => s.FromDatum);
        Assert.Equal(250, places["Loin"] - places["Girth"], 0.5);
        Assert.False(back.Assumed);
    }

    [Fact]
    public void What_is_shown_where_no_station_was_asked_for_is_one_of_the_practices_own()
    {
        Assert.Equal("behind-shoulder", Protocols.UsualOf(Protocols.Default));
        Assert.Equal("Girth", Protocols.UsualOf(Own));
        Assert.Equal("Here", Protocols.UsualOf([new Station("Here", "by hand", null)]));
    }

    private async Task<BackOfVisit> Loaded(string name, Tracing? topline)
    {
        var practice = await acts.Found(name);
        var yard = practice.Yard;
        var horse = await yard.Horse(acts.Time.Now.AddDays(-9));
        VisitEntry[] entries = [yard.Section(40, 41, "Loin"), yard.Section(42, 43, "Girth")];
        var visit = await yard.Visit(
            horse,
            acts.Time.Now.AddDays(-8),
            [.. entries, .. topline is null ? [] : new VisitEntry[] { new TracingEntry(yard.NewEntry(), topline) }]
        );
        await acts.Store.CatchUp();
        var record = (await acts.Store.Horses.Visit(name, horse, visit, default))!;
        return await BackOfVisit.Load(acts.Store.Horses, name, horse, record, Own, default);
    }
}
