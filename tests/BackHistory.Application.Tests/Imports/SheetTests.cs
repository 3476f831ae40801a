using System.Text;
using BackHistory.Application.Imports;
using BackHistory.Formats.Sheets;
using BackHistory.Store.Imports;
using BackHistory.Testing;

namespace BackHistory.Application.Tests.Imports;

/// <summary>Spreadsheets from the wild: what is read, and what is refused before it is opened.</summary>
public sealed class SheetTests
{
    private static readonly ImportPlan Plan = new(ImportKind.Horses, new Dictionary<string, string>(StringComparer.Ordinal));

    [Fact]
    public void A_workbook_and_a_table_of_the_same_horses_are_the_same_sheet()
    {
        var (workbook, bad) = Sheet.Read(
            Workbook.Of([
                [Workbook.Text("Name"), Workbook.Text("Height")],
                [Workbook.Text("Bramble"), Workbook.Number(160.5)],
                [Workbook.Nothing, Workbook.Nothing],
                [Workbook.Text("Thistle")],
            ]),
            null
        );
        Assert.Null(bad);
        var (table, worse) = Sheet.Read("Name;Height\r\nBramble;160.5\r\n\r\nThistle;\r\n"u8.ToArray(), null);
        Assert.Null(worse);
        foreach (var sheet in new[] { workbook!, table! })
        {
            Assert.Equal(["Name", "Height"], sheet.Headers);
            Assert.Equal([2, 4], sheet.Rows.Select(r => r.Line));
            Assert.Equal(["Bramble", "160.5"], sheet.Rows[0].Cells.Select(c => c.Text));
            Assert.Equal(CellKind.Empty, sheet.Rows[1][1].Kind);
        }
    }

    [Fact]
    public void A_cell_that_the_workbook_shows_as_a_day_is_that_day_whatever_the_plan_says_of_text()
    {
        var day = new DateOnly(2026, 3, 4);
        var (sheet, _) = Sheet.Read(
            Workbook.Of([
                [Workbook.Text("Foaled")],
                [Workbook.Day(day)],
            ]),
            null
        );
        Assert.Equal((day, null), new CellReader(Plan with { DateFormat = "MM/dd/yyyy" }).Date(sheet!.Rows[0][0]));
    }

    [Theory]
    [InlineData("dd/MM/yyyy", "3/4/2026", 2026, 4, 3)]
    [InlineData("MM/dd/yyyy", "3/4/2026", 2026, 3, 4)]
    [InlineData("dd.MM.yyyy", "03.04.2026", 2026, 4, 3)]
    [InlineData("d MMM yyyy", "3 Apr 2026", 2026, 4, 3)]
    [InlineData("yyyy", "2015", 2015, 1, 1)]
    public void The_same_letters_are_another_day_in_another_format_and_the_plan_decides(
        string format,
        string text,
        int year,
        int month,
        int day
    ) => Assert.Equal(new DateOnly(year, month, day), new CellReader(Plan with { DateFormat = format }).Date(Cell.FromText(text)).Day);

    [Fact]
    public void Without_an_answer_nothing_is_guessed()
    {
        var reader = new CellReader(Plan);
        Assert.Equal("unanswered", reader.Date(Cell.FromText("03.04.2026")).Refused?.Code);
        Assert.Equal("unanswered", reader.Length(Cell.FromText("160")).Refused?.Code);
        Assert.Equal("unanswered", reader.Weight(Cell.FromText("520")).Refused?.Code);
        Assert.Equal("unanswered", reader.Number(Cell.FromText("1,5")).Refused?.Code);
        Assert.Equal(160, reader.Number(Cell.FromText("160")).Number);
    }

    [Theory]
    [InlineData("64 in", 1625.6)]
    [InlineData("64\"", 1625.6)]
    [InlineData("162,5cm", 1625)]
    [InlineData("1625 mm", 1625)]
    [InlineData("162,5", 1625)]
    // Common practice, no source: after the point of hands stand inches.
    [InlineData("16,0 hh", 1625.6)]
    [InlineData("15,2 hands", 1574.8)]
    public void Inches_centimetres_and_hands_in_one_column_are_each_read_in_their_own_unit(string text, double millimetres) =>
        Assert.Equal(
            millimetres,
            new CellReader(Plan with { DecimalMark = ",", LengthUnit = "cm" }).Length(Cell.FromText(text)).Millimetres!.Value,
            6
        );

    [Theory]
    [InlineData("1.520,5", "not-a-number")]
    [InlineData("about 160", "not-a-number")]
    [InlineData("15,5 hh", "not-hands")]
    public void A_number_that_cannot_be_told_for_certain_is_refused(string text, string code) =>
        Assert.Equal(code, new CellReader(Plan with { DecimalMark = ",", LengthUnit = "cm" }).Length(Cell.FromText(text)).Refused?.Code);

    /// <summary>Bytes of Windows code page 1252 from its table in the WHATWG Encoding Standard: ä E4, ß DF, é E9, € 80.</summary>
    [Fact]
    public void A_table_in_Windows_letters_is_read_and_says_so()
    {
        byte[] bytes = [.. "Name;Rasse\nB"u8, 0xE4, (byte)'r', .. ";Gro"u8, 0xDF, .. " "u8, 0xE9, 0x80, (byte)'\n'];
        var (sheet, bad) = Sheet.Read(bytes, null);
        Assert.Null(bad);
        Assert.Equal(SheetLetters.Windows1252, sheet!.Letters);
        Assert.Equal(["Bär", "Groß é€"], sheet.Rows[0].Cells.Select(c => c.Text));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_table_in_UTF_16_is_known_by_its_mark(bool bigEndian)
    {
        var encoding = new UnicodeEncoding(bigEndian, byteOrderMark: true);
        var (sheet, bad) = Sheet.Read([.. encoding.GetPreamble(), .. encoding.GetBytes("Name\tYard\r\nBär\tHof 'Ü'\r\n")], null);
        Assert.Null(bad);
        Assert.Equal(SheetLetters.Utf16, sheet!.Letters);
        Assert.Equal(["Name", "Yard"], sheet.Headers);
        Assert.Equal(["Bär", "Hof 'Ü'"], sheet.Rows[0].Cells.Select(c => c.Text));
    }

    [Fact]
    public void A_mark_in_front_of_UTF_8_is_no_part_of_the_first_header()
    {
        var (sheet, _) = Sheet.Read([0xEF, 0xBB, 0xBF, .. "Name;Yard\nBramble;Ford\n"u8], null);
        Assert.Equal((SheetLetters.Utf8, "Name"), (sheet!.Letters, sheet.Headers[0]));
    }

    [Theory]
    [InlineData("Horses, spring 2024;;\nof all yards\n\nName;Height;Born\nBramble;160,5;2015\n")]
    [InlineData("Horses of all yards\nas of 1 May\n\nName,Height,Born\nBramble,160,2015\n")]
    public void Titles_above_the_header_of_a_table_are_passed_over_and_said(string table)
    {
        var (sheet, bad) = Sheet.Read(Encoding.UTF8.GetBytes(table), null);
        Assert.Null(bad);
        Assert.Equal(["Name", "Height", "Born"], sheet!.Headers);
        Assert.Equal([1, 2], sheet.PassedOver.Select(t => t.Line));
        Assert.Equal(5, Assert.Single(sheet.Rows).Line);
    }

    [Fact]
    public void A_title_over_merged_cells_of_a_workbook_is_passed_over_and_a_day_is_shown_as_a_day()
    {
        var (sheet, bad) = Sheet.Read(
            Workbook.Of(
                [
                    [Workbook.Text("Our horses")],
                    [Workbook.Text("Name"), Workbook.Text("Born")],
                    [Workbook.Text("Bramble"), Workbook.Day(new DateOnly(2015, 3, 4))],
                ],
                merged: "A1:B1"
            ),
            null
        );
        Assert.Null(bad);
        Assert.Equal(new SheetTitle(1, "Our horses"), Assert.Single(sheet!.PassedOver));
        Assert.Equal(["Name", "Born"], sheet.Headers);
        Assert.Equal((3, "2015-03-04"), (sheet.Rows[0].Line, sheet.Rows[0][1].Text));
    }

    /// <summary>A line with a number or a day in it names no columns, so the single cell above it does.</summary>
    [Fact]
    public void A_header_of_one_column_is_no_title()
    {
        Assert.Equal("Name", Assert.Single(Sheet.Read("Name\nBramble\nThistle\n"u8.ToArray(), null).Sheet!.Headers));
        var (sheet, _) = Sheet.Read(
            Workbook.Of([
                [Workbook.Text("Name")],
                [Workbook.Text("Bramble"), Workbook.Number(160)],
            ]),
            null
        );
        Assert.Equal("Name", Assert.Single(sheet!.Headers));
        Assert.Empty(sheet.PassedOver);
    }

    [Fact]
    public void Several_forms_of_a_day_are_read_side_by_side()
    {
        var reader = new CellReader(Plan with { DateFormats = ["dd.MM.yyyy", "yyyy-MM-dd", "yyyy"] });
        Assert.Equal(
            [new DateOnly(2015, 3, 4), new(2016, 5, 1), new(2017, 1, 1)],
            ((string[])["4.3.2015", "2016-05-01", "2017"]).Select(t => reader.Date(Cell.FromText(t)).Day!.Value)
        );
        Assert.Equal("not-a-date", reader.Date(Cell.FromText("3/4/2015")).Refused?.Code);
    }

    [Fact]
    public void Two_forms_that_read_one_text_as_two_days_are_never_taken_together()
    {
        var clashing =
            from one in ImportFields.DateFormats
            from other in ImportFields.DateFormats
            where string.CompareOrdinal(one, other) < 0 && ImportDates.ReadTwoWays([one, other]) is not null
            select (one, other);
        Assert.Equal([("MM/dd/yyyy", "dd/MM/yyyy")], clashing);
        var (sheet, _) = Sheet.Read("Name,Born\nBramble,3/4/2015\n"u8.ToArray(), null);
        var plan = new ImportPlan(
            ImportKind.Horses,
            new Dictionary<string, string>(StringComparer.Ordinal) { ["Name"] = "name", ["Born"] = "foaled" }
        );
        Assert.Equal("two-ways", SheetLine.Columns(sheet!, plan with { DateFormats = ["dd/MM/yyyy", "MM/dd/yyyy"] }).Refused?.Code);
    }

    [Fact]
    public void Each_form_of_a_day_is_shown_as_a_day_and_in_words_and_never_in_the_notation_of_programmers()
    {
        Assert.Equal("31.12.2015 (day, month, year)", ImportDates.Says("dd.MM.yyyy"));
        Assert.Equal("12/31/2015 (month, day, year)", ImportDates.Says("MM/dd/yyyy"));
        Assert.Equal("31 Dec 2015 (day, month in letters, year)", ImportDates.Says("d MMM yyyy"));
        Assert.Equal("2015 (the year alone)", ImportDates.Says("yyyy"));
        Assert.All(ImportFields.DateFormats, f => Assert.DoesNotContain("yy", ImportDates.Says(f), StringComparison.Ordinal));

        var (sheet, _) = Sheet.Read("Name,Born\nBramble,4.3.2015\nThistle,5.3.2015\n"u8.ToArray(), null);
        var plan = new ImportPlan(
            ImportKind.Horses,
            new Dictionary<string, string>(StringComparer.Ordinal) { ["Name"] = "name", ["Born"] = "foaled" }
        );
        var values = new ValueQuestions(plan, new KnownNames([], [], [], []), []);
        var asked = Assert.Single(ImportQuestions.QuestionsFor(sheet!, plan, SheetLine.Columns(sheet!, plan).Columns!, values));
        Assert.Contains("31.12.2015 (day, month, year): reads 2 of 2, “4.3.2015” as 4 March 2015", asked.Labels!);
        Assert.Contains("2015-12-31 (year, month, day): no date here is written so", asked.Labels!);
        Assert.DoesNotContain(
            "yy",
            new CellReader(plan with { DateFormat = "dd/MM/yyyy" }).Date(Cell.FromText("4.3.2015")).Refused!.Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_formula_is_neither_run_nor_believed()
    {
        var (sheet, _) = Sheet.Read(
            Workbook.Of([
                [Workbook.Text("Height")],
                [Workbook.Formula("80*2", 160)],
            ]),
            null
        );
        Assert.Equal("formula", new CellReader(Plan with { LengthUnit = "cm" }).Length(sheet!.Rows[0][0]).Refused?.Code);
        var (table, _) = Sheet.Read("Name\n=1+1\n"u8.ToArray(), null);
        Assert.Equal(CellKind.Formula, table!.Rows[0][0].Kind);
    }

    [Fact]
    public void Merged_headers_are_refused_and_a_line_with_merged_cells_is_told_by_its_number()
    {
        string[][] rows =
        [
            [Workbook.Text("Name"), Workbook.Text("Height")],
            [Workbook.Text("Bramble")],
            [Workbook.Text("Thistle")],
        ];
        Assert.Equal("merged-header", Sheet.Read(Workbook.Of(rows, merged: "A1:B1"), null).Refused?.Code);
        var (sheet, _) = Sheet.Read(Workbook.Of(rows, merged: "A3:B3"), null);
        Assert.Null(sheet!.Rows[0].Problem);
        Assert.Equal((3, "merged-cells"), (sheet.Rows[1].Line, sheet.Rows[1].Problem?.Code));
    }

    [Fact]
    public void Macros_bombs_old_workbooks_and_files_that_only_look_like_one_are_not_opened()
    {
        string[][] rows =
        [
            [Workbook.Text("Name")],
            [Workbook.Text("Bramble")],
        ];
        Assert.Equal("macros", Sheet.Read(Workbook.Of(rows, macros: true), null).Refused?.Code);
        var bomb = Workbook.Of(rows, more: [("xl/media/a", new byte[110 << 20]), ("xl/media/b", new byte[110 << 20])]);
        Assert.True(bomb.Length < 4 << 20, $"the bomb is {bomb.Length} bytes");
        Assert.Equal("unpacks-too-large", Sheet.Read(bomb, null).Refused?.Code);
        Assert.Equal("old-or-locked", Sheet.Read([0xD0, 0xCF, 0x11, 0xE0, 0xA1], null).Refused?.Code);
        Assert.Equal("unreadable", Sheet.Read(Encoding.ASCII.GetBytes("PK but nothing more"), null).Refused?.Code);
        // No letter of Windows stands for 0x81, and no table holds a control character.
        Assert.Equal("not-utf8", Sheet.Read([(byte)'N', 0xFF, 0x81, (byte)'\n'], null).Refused?.Code);
        Assert.Equal("not-utf8", Sheet.Read([(byte)'N', 0x00, 0x01, (byte)'\n'], null).Refused?.Code);
        Assert.Equal("empty-file", Sheet.Read([], null).Refused?.Code);
        Assert.Equal("no-rows", Sheet.Read("Name\n"u8.ToArray(), null).Refused?.Code);
        Assert.Equal("header-twice", Sheet.Read("Name,name\na,b\n"u8.ToArray(), null).Refused?.Code);
    }

    [Fact]
    public void Empty_lines_above_the_header_are_nobodys_header_and_lines_keep_their_numbers()
    {
        var (sheet, _) = Sheet.Read(
            Workbook.Of([
                [Workbook.Nothing],
                [Workbook.Nothing],
                [Workbook.Text("Name")],
                [Workbook.Text("Bramble")],
            ]),
            null
        );
        Assert.Equal("Name", Assert.Single(sheet!.Headers));
        Assert.Equal(4, Assert.Single(sheet.Rows).Line);
    }
}
