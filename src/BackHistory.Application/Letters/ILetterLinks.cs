using BackHistory.History.Reminders;

namespace BackHistory.Application.Letters;

/// <summary>Where letters lead. To answer or to stop letters there are sealed links: whoever holds one can do one thing, and see nothing
/// else.</summary>
public interface ILetterLinks
{
    /// <summary>To answer a reminder.</summary>
    /// <param name="personId">To whom the letter is.</param>
    string Answer(string practice, Guid reminderId, Answer answer, Guid personId, string language = "en");

    /// <summary>To stop letters of a kind.</summary>
    string Stop(string practice, Guid personId, LetterKind kind, string language = "en");

    /// <summary>To choose another day for a booked visit.</summary>
    /// <param name="personId">To whom the letter is.</param>
    string Move(string practice, Guid reminderId, Guid personId, string language = "en");

    /// <summary>To a horse, for whoever may see it.</summary>
    string Horse(Guid horseId);

    /// <summary>To a horse, for whoever holds the link, as long as it holds.</summary>
    string Look(string practice, Guid horseId, Guid linkId);

    /// <summary>To the practice's reminders.</summary>
    string Reminders { get; }

    /// <summary>What stands for any link in a letter that nobody gets.</summary>
    string Nowhere { get; }
}
