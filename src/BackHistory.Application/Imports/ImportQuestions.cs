using System.Globalization;
using BackHistory.Formats.Sheets;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What has to be asked before a spreadsheet can be read: it is never guessed.</summary>
internal static class ImportQuestions
{
    public static IReadOnlyList<ImportQuestion> QuestionsFor(
        Sheet sheet,
        ImportPlan plan,
        IReadOnlyDictionary<string, (int Column, string Header)> columns,
        ValueQuestions values
    )
    {
        var fields = ImportFields
            .Of[plan.Kind]
            .Where(f => columns.ContainsKey(f.Key))
            .Select(f => (f.Form, columns[f.Key].Column, columns[f.Key].Header))
            .ToList();
        var questions = new List<ImportQuestion>();
        if (Dates() is { } dates)
            questions.Add(dates);
        Ask(
            plan.DecimalMark,
            "decimalMark",
            "Which mark stands before the decimals?",
            [".", ","],
            f => f is FieldForm.Number or FieldForm.WithUnit or FieldForm.Pair or FieldForm.Length or FieldForm.Weight or FieldForm.Points,
            c => c.Kind == CellKind.Text && c.Text.AsSpan().ContainsAny('.', ',')
        );
        Ask(
            plan.LengthUnit,
            "lengthUnit",
            "In which unit are the lengths that name none?",
            ImportFields.LengthUnits,
            f => f == FieldForm.Length,
            Bare
        );
        Ask(
            plan.WeightUnit,
            "weightUnit",
            "In which unit are the weights that name none?",
            ImportFields.WeightUnits,
            f => f == FieldForm.Weight,
            Bare
        );
        questions.AddRange(values.QuestionsFor(sheet, columns));
        return questions;

        ImportQuestion? Dates()
        {
            var answered = ImportDates.Of(plan);
            if (answered.Count > 0 && answered.All(a => ImportFields.DateFormats.Contains(a, StringComparer.Ordinal)))
                return null;
            var open = fields.Where(f => f.Form == FieldForm.Date && sheet.Rows.Any(r => r[f.Column].Kind == CellKind.Text)).ToList();
            if (open.Count == 0)
                return null;
            var texts = sheet.Rows.SelectMany(r => open.Select(f => r[f.Column])).Where(c => c.Kind == CellKind.Text).ToList();
            var reads = ImportFields.DateFormats.Select(f => texts.Where(c => ImportDates.Read(c.Text, f) is not null).ToList()).ToList();
            return new ImportQuestion(
                "dateFormat",
                "How are the dates written? Tick every way that stands in the table.",
                ImportFields.DateFormats,
                [.. open.Select(f => f.Header)],
                Several: true,
                Labels: [.. ImportFields.DateFormats.Zip(reads, (f, of) => Label(f, of, texts.Count))],
                Reads: [.. reads.Select(r => r.Count)]
            );
        }

        static string Label(string format, List<Cell> of, int all)
        {
            var says = ImportDates.Says(format);
            if (of.Count == 0 || ImportDates.Read(of[0].Text, format) is not { } day)
                return $"{says}: no date here is written so";
            var first = day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
            return string.Create(CultureInfo.InvariantCulture, $"{says}: reads {of.Count} of {all}, “{of[0].Text}” as {first}");
        }

        void Ask(
            string? answer,
            string about,
            string question,
            IReadOnlyList<string> answers,
            Func<FieldForm, bool> form,
            Func<Cell, bool> needs
        )
        {
            if (answer is not null && answers.Contains(answer, StringComparer.Ordinal))
                return;
            var open = fields.Where(f => form(f.Form) && sheet.Rows.Any(r => needs(r[f.Column]))).Select(f => f.Header).ToList();
            if (open.Count > 0)
                questions.Add(new ImportQuestion(about, question, answers, open));
        }
    }

    private static bool Bare(Cell cell) =>
        cell.Kind == CellKind.Number || (cell.Kind == CellKind.Text && cell.Text.Length > 0 && char.IsAsciiDigit(cell.Text[^1]));
}
