using BackHistory.Application.Horses;
using BackHistory.History;
using BackHistory.Store;
using BackHistory.Store.Accounts;

namespace BackHistory.Application.Tests.Horses;

/// <summary>A horse is found by its microchip and its passport, no two have the same, and a number that is erased is nowhere.</summary>
public sealed class IdentifyHorseTests(PracticeActs acts) : IClassFixture<PracticeActs>
{
    private const string Chip = "276 0981 0012 3456";

    [Fact]
    public async Task A_horse_is_found_by_its_numbers_however_they_are_typed()
    {
        var practice = await acts.Found("identity found");
        var horse = await Horse(practice, "Bramble");
        Assert.Null((await Identify(practice, horse, "276 0900 0012 3456", "de 433 43-0012345")).Refused);

        foreach (var typed in new[] { "276090000123456", "2760-9000", "DE43343" })
            Assert.Equal(["Bramble"], (await acts.Get<Find>().ByText(practice.Name, typed, default)).Select(f => f.Title));
        Assert.Empty(await acts.Get<Find>().ByText((await acts.Found("identity of others")).Name, "276090000123456", default));
    }

    [Fact]
    public async Task One_number_is_one_horses_until_it_is_erased_and_then_it_stands_nowhere()
    {
        var practice = await acts.Found("identity taken");
        var (one, other) = (await Horse(practice, "Bramble"), await Horse(practice, "Juniper"));
        Assert.Null((await Identify(practice, one, Chip, null)).Refused);

        var refused = (await Identify(practice, other, "276098100123456", null)).Refused!;
        Assert.Equal(("identity-taken", "microchip"), (refused.Code, refused.Place));
        Assert.Contains("Bramble has this number already", refused.Message, StringComparison.Ordinal);

        Assert.Null((await Identify(practice, one, " ", null)).Refused);
        await using var anywhere = acts.Store.Database.CreateCommand(
            """
            select (select count(*) from history.mt_events where data::text like '%276098100123456%')
                 + (select count(*) from history.mt_doc_horseidentity where data::text like '%276098100123456%')
                 + (select count(*) from history.mt_doc_auditnote where data::text like '%276098100123456%')
            """
        );
        Assert.Equal(0L, await anywhere.ExecuteScalarAsync());
        Assert.Null((await Identify(practice, other, Chip, null)).Refused);
    }

    [Theory]
    [InlineData("12345", null, "microchip")]
    [InlineData("27609810012345X", null, "microchip")]
    [InlineData(null, "A;B", "passport")]
    public async Task What_is_no_number_is_refused_beside_its_field(string? chip, string? passport, string place)
    {
        var practice = await acts.Found($"identity refused {chip}{place}");
        var horse = await Horse(practice, "Bramble");
        Assert.Equal(place, (await Identify(practice, horse, chip, passport)).Refused!.Place);
    }

    private async Task<Guid> Horse(TestPractice practice, string name)
    {
        var horse = await practice.Yard.Horse(acts.Time.Now.AddDays(-9), name);
        await acts.Store.CatchUp();
        return horse;
    }

    private Task<Outcome> Identify(TestPractice practice, Guid horse, string? chip, string? passport) =>
        acts.Get<IdentifyHorse>().Do(new(horse, chip, passport), practice.By(PracticeRole.Apprentice), default);
}
