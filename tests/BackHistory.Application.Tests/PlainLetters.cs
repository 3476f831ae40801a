using BackHistory.Application.Letters;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Tests;

/// <summary>Links that lead nowhere: what is asked here is whether letters leave.</summary>
internal sealed class PlainLetters : ILetterLinks
{
    public string Nowhere => "https://backhistory.invalid";

    public string Reminders => $"{Nowhere}/reminders";

    public string Answer(string practice, Guid reminderId, Answer answer, Guid personId, string language = "en") =>
        $"{Nowhere}/answer/{reminderId}/{answer}";

    public string Move(string practice, Guid reminderId, Guid personId, string language = "en") => $"{Nowhere}/move/{reminderId}";

    public string Stop(string practice, Guid personId, LetterKind kind, string language = "en") => $"{Nowhere}/stop/{personId}/{kind}";

    public string Look(string practice, Guid horseId, Guid linkId) => $"{Nowhere}/look/{horseId}/{linkId}";

    public string Horse(Guid horseId) => $"{Nowhere}/horses/{horseId}";
}
