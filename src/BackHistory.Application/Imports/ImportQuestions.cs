using BackHistory.Formats.Sheets;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <param name="About">The field of the plan that answers it.</param>
/// <param name="Columns">The headers whose cells cannot be read before.</param>
public sealed record ImportQuestion(string About, string Question, IReadOnlyList<string> Answers, IReadOnlyList<string> Columns);

/// <summary>What has to be asked before a spreadsheet can be read: it is never guessed.</summary>
internal static class ImportQuestions
{
    public static IReadOnlyList<ImportQuestion> QuestionsFor(
        Sheet sheet,
        ImportPlan plan,
        IReadOnlyDictionary<string, (int Column, string Header)> columns
    )
    {
        var fields = ImportFields
            .Of[plan.Kind]
            .Where(f => columns.ContainsKey(f.Key))
            .Select(f => (f.Form, columns[f.Key].Column, columns[f.Key].Header))
            .ToList();
        var questions = new List<ImportQuestion>();
        Ask(
            plan.DateFormat,
            "dateFormat",
            "How are the dates written?",
            ImportFields.DateFormats,
            f => f == FieldForm.Date,
            c => c.Kind == CellKind.Text
        );
        Ask(
            plan.DecimalMark,
            "decimalMark",
            "Which mark stands before the decimals?",
            [".", ","],
            f => f is FieldForm.Number or FieldForm.Length or FieldForm.Weight,
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
        return questions;

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
