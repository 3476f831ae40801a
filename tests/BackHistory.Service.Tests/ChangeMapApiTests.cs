using System.Net;
using System.Text.Json;
using BackHistory.Testing;

namespace BackHistory.Service.Tests;

/// <summary>
/// The change map of the horses that a first start invents: backs traced whole at every station, as a practice traces them.
/// </summary>
public sealed class ChangeMapApiTests : IAsyncLifetime
{
    private const int Horses = 6;

    private readonly DirectoryInfo _state = Directory.CreateTempSubdirectory("backhistory-change-map-");
    private ServedHost _host = null!;

    public async ValueTask InitializeAsync() => _host = await ServedHost.Invented(await TestServer.NewDatabase(), _state.FullName, Horses);

    public async ValueTask DisposeAsync()
    {
        await _host.DisposeAsync();
        _state.Delete(recursive: true);
    }

    [Fact]
    public async Task Every_horse_of_the_invented_practice_has_a_change_map_between_its_first_visit_and_its_last()
    {
        using var client = _host.Client(ServedHost.InventedTenant);
        var horses = (await client.GetFromJson("/api/horses")).GetProperty("items").EnumerateArray().Select(IdOf).ToList();
        Assert.Equal(Horses, horses.Count);
        foreach (var horse in horses)
        {
            var lofted = (await client.GetFromJson($"/api/horses/{horse}/visits")).EnumerateArray().Where(Lofts).Select(IdOf).ToList();
            Assert.True(lofted.Count > 1, $"{horse} was traced at two stations on {lofted.Count} days: there would be nothing to compare");
            var map = $"/api/horses/{horse}/compare/change";
            foreach (var (form, type) in new[] { ("svg", "image/svg+xml"), ("png", "image/png") })
            {
                var answer = await client.GetAsync($"{map}.{form}?visits={lofted[0]},{lofted[^1]}");
                var said = answer.StatusCode == HttpStatusCode.OK ? "" : await answer.Content.ReadAsStringAsync();
                Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{horse} as {form}: {answer.StatusCode} {said}");
                Assert.Equal(type, answer.Content.Headers.ContentType?.MediaType);
            }

            var drawn = await client.GetStringAsync($"{map}.svg?visits={lofted[0]},{lofted[^1]}");
            Assert.Contains("more horse", drawn, StringComparison.Ordinal);
            Assert.Contains("<image", drawn, StringComparison.Ordinal);
        }
    }

    private static Guid IdOf(JsonElement element) => element.GetProperty("id").GetGuid();

    private static bool Lofts(JsonElement visit) =>
        !visit.GetProperty("withdrawn").GetBoolean() && visit.GetProperty("entries").EnumerateArray().Count(IsStandingSection) > 1;

    private static bool IsStandingSection(JsonElement entry) =>
        entry.GetProperty("kind").GetString() == "cross-section" && entry.GetProperty("stands").GetBoolean();
}
