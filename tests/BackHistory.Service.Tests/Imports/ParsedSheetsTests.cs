using BackHistory.Application.Imports;
using BackHistory.Formats.Sheets;
using BackHistory.Store.Imports;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Imports;

/// <summary>A table that was sent in is read once, and stays no longer than its file.</summary>
public sealed class ParsedSheetsTests(RunningService service)
{
    [Fact]
    public async Task A_table_is_tried_and_entered_as_it_was_read_when_it_was_sent_in()
    {
        using var client = service.Client();
        var mark = Guid.NewGuid().ToString("N")[..6];
        var id = await ImportApiTests.SendIn(client, $"Name\nSent {mark}\n");
        var plan = new { kind = "yards", columns = new { Name = "name" } };
        var import = (await service.Services.GetRequiredService<ImportStore>().Load(RunningService.Mine, id, default))!;
        var sheets = service.Services.GetRequiredService<ParsedSheets>();
        // What is kept is exchanged under the same file: were the file read again, one line would be tried and entered.
        var (other, _) = Sheet.Read(System.Text.Encoding.UTF8.GetBytes($"Name\nKept {mark}\nKept too {mark}\n"), null);
        Assert.NotNull(sheets.Find(import.File!, null));
        sheets.Keep(import.File!, null, other!);

        var trial = await ImportApiTests.Post(client, $"/api/imports/{id}/try", plan);
        Assert.Equal(2, trial.GetProperty("counts").GetProperty("entered").GetInt32());
        Assert.Equal((2, 0, 0), await ImportApiTests.Enter(client, id, plan));
        Assert.Null(sheets.Find(import.File!, null));
    }

    [Fact]
    public async Task A_table_that_is_discarded_is_kept_no_longer()
    {
        using var client = service.Client();
        var id = await ImportApiTests.SendIn(client, "Name\nNobody's yard\n");
        var import = (await service.Services.GetRequiredService<ImportStore>().Load(RunningService.Mine, id, default))!;
        var sheets = service.Services.GetRequiredService<ParsedSheets>();
        Assert.NotNull(sheets.Find(import.File!, null));
        (await client.Write(HttpMethod.Post, $"/api/imports/{id}/take-back", new { })).EnsureSuccessStatusCode();
        Assert.Null(sheets.Find(import.File!, null));
    }
}
