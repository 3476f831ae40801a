using BackHistory.History.Reminders;

namespace BackHistory.Reports.Letters.Writing;

/// <summary>
/// The cautions of method.md section 9, where a decision is taken. They belong to the kind of letter, not to its template: the practice
/// may move them, not leave them out.
/// </summary>
internal static class Cautions
{
    const string VetFirst =
        "Call your vet before anyone changes the saddle if the back has changed suddenly or on one side only, or if your horse is in "
        + "pain, has heat, swelling or sores, is lame, or has a saddle that keeps slipping to one side.";
    const string VetFirstGerman =
        "Rufen Sie zuerst Ihre Tierärztin oder Ihren Tierarzt, bevor jemand den Sattel ändert, wenn sich der Rücken plötzlich oder nur "
        + "auf einer Seite verändert hat, wenn Ihr Pferd Schmerzen, Wärme, Schwellungen oder offene Stellen zeigt, lahmt, oder wenn der "
        + "Sattel immer "
        + "wieder zu einer Seite rutscht.";
    const string ShapeOnly = "We describe the shape of the back. We do not diagnose.";
    const string ShapeOnlyGerman = "Wir beschreiben die Form des Rückens. Wir stellen keine Diagnosen.";
    const string Handling =
        "Work with an experienced holder on safe footing. Do not measure a horse that will not stand. Sudden or one-sided loss, pain, "
        + "heat, swelling, "
        + "sores, lameness, or a saddle that slips to one side: to the vet before any refit.";
    const string HandlingGerman =
        "Nur mit erfahrener Person am Pferd und auf sicherem Boden arbeiten. Kein Pferd messen, das nicht steht. Plötzlicher oder "
        + "einseitiger Schwund, "
        + "Schmerz, Wärme, Schwellung, offene Stellen, Lahmheit oder ein Sattel, der zu einer Seite rutscht: vor jeder Anpassung in "
        + "tierärztliche Hand.";

    public static IReadOnlyList<string> Of(LetterKind kind, ReportLanguage language) =>
        kind switch
        {
            LetterKind.OwnerRefit or LetterKind.VetCaution =>
            [
                language.Pick(VetFirst, VetFirstGerman),
                language.Pick(ShapeOnly, ShapeOnlyGerman),
            ],
            LetterKind.OwnerCheck or LetterKind.MeasureAgain or LetterKind.BookingMade => [language.Pick(VetFirst, VetFirstGerman)],
            LetterKind.FitterDay => [language.Pick(Handling, HandlingGerman)],
            LetterKind.VetNote => [language.Pick(ShapeOnly, ShapeOnlyGerman)],
            _ => [],
        };

    public static bool Always(LetterKind kind) => Of(kind, ReportLanguage.English).Count > 0;
}
