using System.Diagnostics;
using System.Globalization;

namespace BackHistory.Browser.Tests.Crawl;

/// <summary>Every page is walked and everything on it is pressed: what it says it saved is what it shows then.</summary>
public sealed class CrawlTests(RunningPractice practice, ITestOutputHelper output)
{
    /// <summary>The whole crawl is asked for by its name, as <c>ops/bench crawl</c> does.</summary>
    private static bool Whole => Environment.GetEnvironmentVariable("BACKHISTORY_CRAWL") == "whole";

    [Fact]
    public async Task Every_form_and_link_that_a_person_comes_to_does_what_it_says()
    {
        var state = Directory.CreateTempSubdirectory("backhistory-crawl-");
        var watch = Stopwatch.StartNew();
        var crawl = new WholeCrawl(practice.Browser, state.FullName, Whole);
        try
        {
            await crawl.Run();
        }
        catch (Exception e)
        {
            output.WriteLine($"  fault: {e}");
            throw;
        }
        finally
        {
            Told(crawl, watch);
            state.Delete(recursive: true);
        }

        Assert.Empty(crawl.Together.Faults);
        // The short crawl presses part of them.
        if (Whole)
            Assert.Empty(crawl.Unpressed.Except(Listed.Unpressed.Keys, StringComparer.Ordinal));
    }

    private void Told(WholeCrawl crawl, Stopwatch watch)
    {
        foreach (var (who, saw) in crawl.Ledgers)
            output.WriteLine($"  {who}: {saw.Counts(crawl.Writing.Count)}");
        var ledger = crawl.Together;
        output.WriteLine(
            $"{ledger.Counts(crawl.Writing.Count)} in {watch.Elapsed.TotalSeconds.ToString("0", CultureInfo.InvariantCulture)} s"
        );
        foreach (var page in crawl.Pages.Except(ledger.Pages.Keys, StringComparer.Ordinal).Where(_ => Whole))
            output.WriteLine($"  no link leads to {page}");
        foreach (var door in crawl.Unpressed.Where(_ => Whole))
            output.WriteLine($"  unpressed: {door}");
        foreach (var fault in ledger.Faults)
            output.WriteLine($"  fault: {fault}");
        foreach (var (form, who) in ledger.Forms)
            output.WriteLine($"  pressed: {who}: {form}");
    }
}
