using System.Net;
using BackHistory.Store.Accounts;
using BackHistory.Store.Practices;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Practices;

/// <summary>The page on which the table of a gauge is typed or pasted, without scripts.</summary>
public sealed class GaugePageTests(RunningService service)
{
    private const string Address = "/practice/gauges/table?gauge=long-bar";

    [Theory]
    [InlineData("tabs", "Mark\tDegrees\r\n1\t30\r\n2\t35,5\r\n3\t42")]
    [InlineData("semicolons", "1;30\n2;35,5\n\n3;42\n")]
    [InlineData("commas", "1,30\n2,35.5\n3,42")]
    public async Task Columns_copied_from_a_spreadsheet_fill_the_table_and_are_saved_as_they_stand_there(string with, string pasted)
    {
        var practice = $"pastes-{with}";
        await service.Found(practice);
        using var browser = await Manages(practice);

        var filled = await (
            await browser.Press(Address, ("Form.Pasted", pasted), ("Form.Press", "fill"), ("Form.Name", "Long bar"))
        ).Words();
        Assert.Contains("3 rows were taken over", filled, StringComparison.Ordinal);
        Assert.Contains("value=\"Long bar\"", filled, StringComparison.Ordinal);
        Assert.Empty((await Practice(practice)).Gauges);
        var saved = await browser.Sent(Address, filled, ("Form.Measure", "slope"), ("Form.Unit", "deg"), ("Form.Reason", "Bought."));

        Assert.Equal("/practice/gauges?saved=changed", saved.Then());
        var gauge = (await Practice(practice)).Gauges["long-bar"];
        Assert.Equal([("1", 1, 30), ("2", 2, 35.5), ("3", 3, 42)], gauge.Marks.Select(m => (m.Name, m.Position, m.Value)));
        var list = WebUtility.HtmlDecode(await browser.Page("/practice/gauges"));
        Assert.Contains("gauges/long-bar/curve.svg", list, StringComparison.Ordinal);
        using var client = service.Client(practice);
        var curve = await client.GetStringAsync("/api/practice/gauges/long-bar/curve.svg?width=390&height=300");
        Assert.StartsWith("<svg", curve[curve.IndexOf("<svg", StringComparison.Ordinal)..], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Three_columns_of_commas_are_asked_about_and_never_taken_for_another_number()
    {
        const string practice = "pastes-all-commas";
        await service.Found(practice);
        using var browser = await Manages(practice);

        var filled = await (await browser.Press(Address, ("Form.Press", "fill"), ("Form.Pasted", "1,30\n2,35,5\n3,42"))).Words();

        Assert.Contains("id=\"v-1-wrong\"", filled, StringComparison.Ordinal);
        Assert.Contains("value=\"35,5 ?\"", filled, StringComparison.Ordinal);
        Assert.DoesNotContain("id=\"v-0-wrong\"", filled, StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_rows_than_a_gauge_holds_are_counted_and_none_is_cut_off_unsaid()
    {
        const string practice = "pastes-too-many";
        await service.Found(practice);
        using var browser = await Manages(practice);
        static string Rows(int n) => "Mark;Degrees\n" + string.Join('\n', Enumerable.Range(1, n).Select(i => $"{i};{i}"));

        var all = await (await browser.Press(Address, ("Form.Press", "fill"), ("Form.Pasted", Rows(200)))).Words();
        Assert.Contains("200 rows were taken over", all, StringComparison.Ordinal);
        var many = await (await browser.Press(Address, ("Form.Press", "fill"), ("Form.Pasted", Rows(203)))).Words();

        Assert.Contains("203 rows were pasted, and a gauge holds up to 200 marks.", many, StringComparison.Ordinal);
        Assert.DoesNotContain("taken over into the table", many, StringComparison.Ordinal);
        Assert.Contains("203;203", many, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_wrong_with_a_row_is_said_beside_it_all_rows_at_once_and_nothing_typed_is_lost()
    {
        const string practice = "mistypes-a-gauge";
        await service.Found(practice);
        using var browser = await Manages(practice);

        var said = await (await browser.Press(Address, ("Form.Press", "fill"), ("Form.Pasted", "1;30\n2;wide\n3;\n4;42"))).Words();
        Assert.Contains("id=\"v-1-wrong\"", said, StringComparison.Ordinal);
        Assert.Contains("id=\"v-2-wrong\"", said, StringComparison.Ordinal);
        Assert.Contains("value=\"wide\"", said, StringComparison.Ordinal);

        var turned = await (
            await browser.Sent(
                Address,
                said,
                ("Form.Name", "Long bar"),
                ("Form.Measure", "slope"),
                ("Form.Unit", "deg"),
                ("Form.Reason", "Bought."),
                ("Form.Marks[1].Value", "28"),
                ("Form.Marks[2].Value", "35")
            )
        ).Words();
        Assert.Contains("It turns round after “1”", turned, StringComparison.Ordinal);
        Assert.Contains("id=\"v-1-wrong\"", turned, StringComparison.Ordinal);
        Assert.Contains("value=\"28\"", turned, StringComparison.Ordinal);
        Assert.Empty((await Practice(practice)).Gauges);
    }

    /// <summary>A script asks so while somebody types.</summary>
    [Fact]
    public async Task A_table_is_checked_while_it_is_typed_and_a_row_that_is_not_finished_is_no_fault_yet()
    {
        const string practice = "types-a-gauge";
        await service.Found(practice);
        using var browser = await Manages(practice);

        var said = await (
            await browser.Press(
                Address,
                ("Form.Press", "check"),
                ("Form.Marks[0].Name", "1"),
                ("Form.Marks[0].Value", "30"),
                ("Form.Marks[1].Name", "2"),
                ("Form.Marks[1].Value", "28"),
                ("Form.Marks[2].Name", "3"),
                ("Form.Marks[2].Value", "35,5"),
                ("Form.Marks[3].Name", "4")
            )
        ).Words();

        Assert.Contains("id=\"v-1-wrong\"", said, StringComparison.Ordinal);
        Assert.DoesNotContain("id=\"v-3-wrong\"", said, StringComparison.Ordinal);
        Assert.Empty((await Practice(practice)).Gauges);
    }

    [Fact]
    public async Task A_key_that_is_none_is_answered_in_words_with_one_that_would_do()
    {
        const string practice = "keys-a-gauge";
        await service.Found(practice);
        using var browser = await Manages(practice);

        var page = WebUtility.HtmlDecode(await browser.Page("/practice/gauges/table?gauge=B%C3%A4nk%201"));

        Assert.Contains(
            "small letters, digits and hyphens, as saddles name it, for example bench-1. Yours could be bank-1.",
            page,
            StringComparison.Ordinal
        );
        Assert.Contains("value=\"Bänk 1\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Save as a new version", page, StringComparison.Ordinal);
        Assert.DoesNotContain("pattern=", WebUtility.HtmlDecode(await browser.Page("/practice/gauges")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_the_marks_stand_for_is_read_beside_the_curve_whose_title_says_more_than_its_name()
    {
        const string practice = "reads-a-gauge";
        await service.Found(practice);
        using var client = service.Client(practice);
        var table = new
        {
            name = "Long bar",
            measure = "slope",
            unit = "deg",
            marks = new[]
            {
                new
                {
                    name = "N",
                    position = 0,
                    value = 30.0,
                },
                new
                {
                    name = "M",
                    position = 2,
                    value = 35.5,
                },
            },
            reason = "Bought.",
        };
        Assert.True((await client.Write(HttpMethod.Put, "/api/practice/gauges/long-bar", table)).IsSuccessStatusCode);
        using var browser = await Manages(practice);

        var page = WebUtility.HtmlDecode(await browser.Page("/practice/gauges"));

        var rows = page[page.IndexOf("<tbody>", StringComparison.Ordinal)..page.IndexOf("</tbody>", StringComparison.Ordinal)];
        string[] cells = [.. rows.Split("<td").Skip(1).Select(c => c[(c.IndexOf('>') + 1)..c.IndexOf('<')])];
        Assert.Equal(["N", "0", "30", "M", "2", "35.5"], cells);
        var curve = WebUtility.HtmlDecode(await client.GetStringAsync("/api/practice/gauges/long-bar/curve.svg"));
        Assert.Contains("2 marks, from 30", curve, StringComparison.Ordinal);
        Assert.DoesNotContain("Long bar: 2 marks", curve, StringComparison.Ordinal);
    }

    private async Task<History.Practices.Practice> Practice(string practice) =>
        (await service.Services.GetRequiredService<PracticeQueries>().Load(practice, CancellationToken.None))!;

    private async Task<Browser> Manages(string practice) =>
        await service.SignedIn(await service.Member($"Manages {practice}", (practice, PracticeRole.Manager)));
}
