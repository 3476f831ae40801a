using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace BackHistory.Testing;

/// <summary>Workbooks as they come from the wild, written part by part so that hostile ones can be made too.</summary>
public static class Workbook
{
    /// <summary>A cell by its XML: <see cref="Text"/>, <see cref="Number"/>, <see cref="Day"/>, <see cref="Formula"/>.</summary>
    public static byte[] Of(
        IEnumerable<string[]> rows,
        string? merged = null,
        bool macros = false,
        int firstLine = 1,
        IEnumerable<(string Name, byte[] Bytes)>? more = null
    )
    {
        var sheet = new StringBuilder("<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>");
        foreach (var (index, row) in rows.Index())
        {
            var line = firstLine + index;
            sheet.Append(CultureInfo.InvariantCulture, $"<row r=\"{line}\">");
            foreach (var (column, cell) in row.Index())
                sheet.Append(cell.Replace("@", $"{(char)('A' + column)}{line}", StringComparison.Ordinal));
            sheet.Append("</row>");
        }

        sheet.Append("</sheetData>");
        if (merged is not null)
            sheet.Append(CultureInfo.InvariantCulture, $"<mergeCells count=\"1\"><mergeCell ref=\"{merged}\"/></mergeCells>");
        sheet.Append("</worksheet>");
        using var memory = new MemoryStream();
        using (var archive = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add(
                archive,
                "[Content_Types].xml",
                """
                <Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
                <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
                <Default Extension="xml" ContentType="application/xml"/>
                <Default Extension="bin" ContentType="application/octet-stream"/><Override PartName="/xl/workbook.xml"
                ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
                <Override PartName="/xl/worksheets/sheet1.xml"
                ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
                <Override PartName="/xl/styles.xml"
                ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>
                """
            );
            Add(
                archive,
                "_rels/.rels",
                """
                <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1"
                Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/>
                </Relationships>
                """
            );
            Add(
                archive,
                "xl/workbook.xml",
                """
                <workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"
                xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>
                <sheet name="Horses" sheetId="1" r:id="r1"/></sheets></workbook>
                """
            );
            Add(
                archive,
                "xl/_rels/workbook.xml.rels",
                """
                <Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1"
                Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>
                <Relationship Id="r2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles"
                Target="styles.xml"/></Relationships>
                """
            );
            Add(
                archive,
                "xl/styles.xml",
                """
                <styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts count="1">
                <numFmt numFmtId="164" formatCode="dd\.mm\.yyyy"/></numFmts><fonts count="1"><font/></fonts><fills count="1"><fill/>
                </fills><borders count="1"><border/></borders><cellXfs count="2"><xf numFmtId="0"/>
                <xf numFmtId="164" applyNumberFormat="1"/></cellXfs></styleSheet>
                """
            );
            Add(archive, "xl/worksheets/sheet1.xml", sheet.ToString());
            if (macros)
                Add(archive, "xl/vbaProject.bin", "not run");
            foreach (var (name, bytes) in more ?? [])
            {
                using var stream = archive.CreateEntry(name, CompressionLevel.Fastest).Open();
                stream.Write(bytes);
            }
        }

        return memory.ToArray();
    }

    public static string Text(string text) => $"<c r=\"@\" t=\"inlineStr\"><is><t>{SecurityElement.Escape(text)}</t></is></c>";

    public static string Number(double value) => string.Create(CultureInfo.InvariantCulture, $"<c r=\"@\"><v>{value}</v></c>");

    /// <summary>A date as spreadsheets keep it: days since 1899-12-30.</summary>
    public static string Day(DateOnly day) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"<c r=\"@\" s=\"1\"><v>{day.DayNumber - new DateOnly(1899, 12, 30).DayNumber}</v></c>"
        );

    public static string Formula(string formula, double value) =>
        string.Create(CultureInfo.InvariantCulture, $"<c r=\"@\"><f>{formula}</f><v>{value}</v></c>");

    public static string Nothing => "<c r=\"@\"/>";

    private static void Add(ZipArchive archive, string name, string text)
    {
        using var writer = new StreamWriter(archive.CreateEntry(name).Open());
        writer.Write(text);
    }
}
