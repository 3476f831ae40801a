using System.Net;
using BackHistory.Application.Evaluation;
using BackHistory.Store;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Archives;

/// <summary>Years of work with all that comes of it: reminders, letters, bulletins, what was learned.</summary>
public sealed class InventedArchiveTests
{
    [Fact]
    public async Task The_archive_of_the_invented_practice_is_found_whole_and_taken_in()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-moved-");
        await using (var host = await ServedHost.Invented(await TestServer.NewDatabase(), state.FullName, horses: 8))
        {
            await host.Found("moved", lettersLeave: false);
            var progress = host.Services.GetRequiredService<Progress>();
            Assert.True(await progress.Wait(await progress.Last(default), TimeSpan.FromMinutes(3), TimeProvider.System, default));
            // The service's own evaluation may still be on its way.
            await host.Services.GetRequiredService<PracticeEvaluation>().Run(ServedHost.InventedTenant, default);
            using var from = host.Client(ServedHost.InventedTenant);
            var archive = await from.GetByteArrayAsync("/api/archive");
            var parts = new ArchiveParts(archive);
            Assert.Contains(parts.Lines("events.jsonl"), l => l.Contains("\"reminder_raised\"", StringComparison.Ordinal));

            using var to = host.Client("moved");
            using var request = new HttpRequestMessage(HttpMethod.Post, "/api/archive") { Content = new ByteArrayContent(archive) };
            request.Headers.TryAddWithoutValidation("Idempotency-Key", Guid.NewGuid().ToString());
            using var taken = await to.SendAsync(request);

            Assert.True(taken.StatusCode == HttpStatusCode.NoContent, await taken.Content.ReadAsStringAsync());
            Assert.True(await progress.Wait(await progress.Last(default), TimeSpan.FromMinutes(3), TimeProvider.System, default));
            Assert.Equal(HttpStatusCode.OK, (await to.GetAsync("/health/ready")).StatusCode);
            Assert.Equal(8, (await to.GetFromJson("/api/horses")).GetProperty("items").GetArrayLength());
        }

        state.Delete(recursive: true);
    }
}
