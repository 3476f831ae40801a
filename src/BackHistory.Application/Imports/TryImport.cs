using BackHistory.History;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Imports;

/// <summary>What would become of each line of a table that was sent in; nothing is saved.</summary>
public sealed class TryImport(ImportStore imports, Importer importer) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Plan">What the columns mean.</param>
    public sealed record Input(Guid ImportId, ImportPlan Plan);

    public async Task<(ImportTrial? Trial, Refused? Refused)> Do(Input asked, Caller by, CancellationToken ct) =>
        await imports.Load(by.Context.Tenant, asked.ImportId, ct) is { } import
            ? await importer.Try(by.Context.Tenant, import with { Plan = asked.Plan }, ct)
            : (null, ImportRefusals.NoSuchImport);
}
