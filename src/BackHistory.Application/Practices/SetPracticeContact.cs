using BackHistory.Application.People;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Reports.Sheets;
using BackHistory.Store;
using BackHistory.Store.Audit;
using BackHistory.Store.Practices;

namespace BackHistory.Application.Practices;

/// <summary>How the practice is reached, and its picture, as they stand on letters and papers from now on.</summary>
public sealed class SetPracticeContact(Commands commands, PracticeQueries practices) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Picture">Another picture; null leaves the one there is.</param>
    /// <param name="WithoutPicture">Whether there is to be none.</param>
    public sealed record Input(ContactDetails Details, PracticePicture? Picture, bool WithoutPicture);

    public async Task<Outcome> Do(Input input, Caller by, CancellationToken ct)
    {
        if (await practices.Load(by.Context.Tenant, ct) is not { } practice)
            return new Outcome(Guid.Empty, 0, 0, PracticeRefusals.NoSuchPractice);
        if (input.Details.Problem() is { } bad)
            return new Outcome(practice.Id, 0, 0, bad);
        if (input.Picture is { } picture && !SheetPicture.CanBeDrawn(picture.Bytes))
            return new Outcome(practice.Id, 0, 0, Undrawable);
        return await commands.ExecuteOnDocument<PracticeContact>(
            by.Context,
            practice.Id,
            _ =>
                Task.FromResult<Func<PracticeContact?, DecidedDocument<PracticeContact>>>(contact =>
                    Decide(contact, practice.Id, input, by)
                ),
            ct
        );
    }

    private static readonly Refused Undrawable = new(
        "damaged-picture",
        "The picture cannot be drawn on a paper. Nothing was saved; save it anew as PNG or JPEG where it was drawn.",
        Place: "picture"
    );

    private static DecidedDocument<PracticeContact> Decide(PracticeContact? found, Guid id, Input input, Caller by)
    {
        var before = found ?? new PracticeContact(id);
        var after = before with
        {
            Address = Said(input.Details.Address),
            Phone = Said(input.Details.Phone),
            ReplyTo = Said(input.Details.ReplyTo),
            Picture = input.WithoutPicture ? null : input.Picture ?? before.Picture,
        };
        var changed = ChangedDetails.Between(before, after, Details);
        return changed.Count == 0
            ? new DecidedDocument<PracticeContact>(before, null)
            : new DecidedDocument<PracticeContact>(after, by.Note(AuditWords.ContactChanged, id, changed));
    }

    private static string? Said(string? typed) => string.IsNullOrWhiteSpace(typed) ? null : typed.Trim();

    private static readonly (string Name, Func<PracticeContact, object?> Value)[] Details =
    [
        ("address", c => c.Address),
        ("telephone", c => c.Phone),
        ("reply address", c => c.ReplyTo),
        ("picture", c => c.Picture?.Hash),
    ];
}
