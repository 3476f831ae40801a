using BackHistory.History;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>A table that was sent in is entered, line by line and behind what goes on.</summary>
public sealed class EnterImport(ImportStore imports, Importer importer, IBackgroundWork work) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Plan">What the columns mean, every question answered.</param>
    public sealed record Input(Guid ImportId, ImportPlan Plan);

    /// <returns>Why it is not entered; null when it is, now or since before.</returns>
    public async Task<Refused?> Do(Input asked, Caller by, CancellationToken ct)
    {
        var practice = by.Context.Tenant;
        if (await imports.Load(practice, asked.ImportId, ct) is not { } import)
            return ImportRefusals.NoSuchImport;
        if (import.State is not (ImportState.SentIn or ImportState.Entering))
            return ImportRefusals.NotNow;
        if (import.State == ImportState.SentIn)
        {
            var (trial, refused) = await importer.Try(practice, import with { Plan = asked.Plan }, ct);
            if (refused is not null)
                return refused;
            if (trial!.Questions.Count > 0)
                return ImportRefusals.Unanswered;
            // Discarded or entered by somebody else since it was tried, it stays as it is.
            var entering = await imports.Change(
                practice,
                asked.ImportId,
                i => i.State == ImportState.SentIn ? i with { Plan = asked.Plan, State = ImportState.Entering } : i,
                ct
            );
            if (entering is null)
                return ImportRefusals.NoSuchImport;
        }

        // Asked for again where the first word was lost: entering what is entered does nothing.
        work.GoOnWithImport(practice, asked.ImportId);
        return null;
    }
}
