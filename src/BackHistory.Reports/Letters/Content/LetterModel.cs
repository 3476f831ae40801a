namespace BackHistory.Reports.Letters.Content;

/// <summary>What a letter says. Texts are plain; whatever they hold is shown as text, never read as HTML or as template.</summary>
public sealed record LetterModel
{
    public ReportLanguage Language { get; init; }

    public required string PracticeName { get; init; }

    /// <summary>How to reach the practice, in one line: telephone, address.</summary>
    public string PracticeContact { get; init; } = "";

    /// <summary>The practice's own picture, over its name.</summary>
    public LetterImage? Mark { get; init; }

    public required string RecipientName { get; init; }

    /// <summary>Needed by letters about one horse.</summary>
    public string HorseName { get; init; } = "";

    /// <summary>The day or week the letter is about; needed by the digest and the day's list.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>What was found, in whole plain sentences; the first is the finding.</summary>
    public IReadOnlyList<string> Sentences { get; init; } = [];

    /// <summary>The finding for those who want to know how it is known: sentences with numbers, shown smaller and apart.</summary>
    public IReadOnlyList<string> Details { get; init; } = [];

    /// <summary>The same in numbers.</summary>
    public IReadOnlyList<LetterNumber> Numbers { get; init; } = [];

    public LetterImage? Chart { get; init; }

    /// <summary>The section now over the section then.</summary>
    public LetterImage? Back { get; init; }

    /// <summary>Needed by the letters that ask the owner something.</summary>
    public LetterAnswers? Answers { get; init; }

    /// <summary>Where to read on or to comment; needed by the vet's note and the digest.</summary>
    public LetterLink? Link { get; init; }

    /// <summary>Lists of horses or stops; used by the digest and the day's list.</summary>
    public IReadOnlyList<LetterGroup> Groups { get; init; } = [];

    /// <summary>Cautions of this case, beside those that the kind of letter always carries.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>Ends letters of this kind at one click (RFC 8058 belongs in the mail's header too).</summary>
    public required string UnsubscribeUrl { get; init; }
}
