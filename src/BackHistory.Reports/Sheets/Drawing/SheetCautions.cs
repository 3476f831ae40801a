namespace BackHistory.Reports.Sheets.Drawing;

/// <summary>The cautions of method.md section 9, where the sheet leads to a decision.</summary>
internal static class SheetCautions
{
    public static IReadOnlyList<string> BeforeRefit(ReportLanguage language) =>
        [
            language.Pick(
                "A proposal for a qualified fitter, who decides and records what was really done. Sudden or one-sided loss, pain, heat, "
                    + "swelling, sores, lameness, or a saddle that slips to one side: to a veterinary surgeon before any refit.",
                "Ein Vorschlag für die Fachperson, die entscheidet und festhält, was wirklich getan wurde. Plötzlicher oder einseitiger "
                    + "Schwund, Schmerz, Wärme, Schwellung, offene Stellen, Lahmheit oder ein Sattel, der zu einer Seite rutscht: vor "
                    + "jeder Anpassung in tierärztliche Hand."
            ),
        ];

    public static IReadOnlyList<string> ShapeOnly(ReportLanguage language) =>
        [
            language.Pick(
                "These sheets describe the shape of the back. They do not diagnose; a change of shape can be disease, not fitness.",
                "Diese Blätter beschreiben die Form des Rückens. Sie stellen keine Diagnose; eine veränderte Form kann Krankheit sein, "
                    + "nicht nur Trainingszustand."
            ),
        ];
}
