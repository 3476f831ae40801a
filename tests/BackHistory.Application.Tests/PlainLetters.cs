using BackHistory.Application.Letters;
using BackHistory.History.Practices;
using BackHistory.History.Reminders;
using BackHistory.Reports.Letters.Content;

namespace BackHistory.Application.Tests;

/// <summary>Letters that say one sentence, with links that lead nowhere: what is asked here is whether they leave.</summary>
internal sealed class PlainLetters : ILetterDrafts, ILetterLinks
{
    private const string Nowhere = "https://backhistory.invalid";

    public Task<LetterDraft?> Draft(string practice, Letter letter, Person reader, CancellationToken ct) =>
        Task.FromResult<LetterDraft?>(
            new(
                new LetterModel
                {
                    PracticeName = "The practice",
                    RecipientName = reader.Name,
                    HorseName = "Bramble",
                    Date = letter.On,
                    Sentences = ["Bramble has not been measured yet."],
                    Answers = new($"{Nowhere}/book", $"{Nowhere}/later", $"{Nowhere}/no"),
                    UnsubscribeUrl = Nowhere,
                }
            )
        );

    public string Answer(string practice, Guid reminderId, Answer answer, string language = "en") =>
        $"{Nowhere}/answer/{reminderId}/{answer}";

    public string Stop(string practice, Guid personId, LetterKind kind, string language = "en") => $"{Nowhere}/stop/{personId}/{kind}";
}
