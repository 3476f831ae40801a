using System.Text;
using BackHistory.Application.Imports;
using BackHistory.Store.Accounts;
using BackHistory.Store.Imports;

namespace BackHistory.Application.Tests.Imports;

/// <summary>A table brought in and taken back as a manager does it.</summary>
internal static class ImportHands
{
    public static async Task<ImportTrial> Tried(this PracticeActs acts, TestPractice practice, string key, string table, ImportPlan plan)
    {
        var id = await acts.SentIn(practice, key, table);
        var (trial, refused) = await acts.Get<TryImport>().Do(new(id, plan), practice.By(PracticeRole.Manager), default);
        Assert.Null(refused);
        return trial!;
    }

    public static async Task<Import> Entered(this PracticeActs acts, TestPractice practice, string key, string table, ImportPlan plan)
    {
        var id = await acts.SentIn(practice, key, table);
        Assert.Null(await acts.Get<EnterImport>().Do(new(id, plan), practice.By(PracticeRole.Manager), default));
        Assert.Contains($"import {id}", acts.Asked.For(practice.Name));
        await acts.Get<ImportRun>().Run(practice.Name, id, default);
        var import = (await acts.Get<ImportStore>().Load(practice.Name, id, default))!;
        Assert.Equal((ImportState.Entered, null), (import.State, import.File));
        return import;
    }

    public static async Task<Import> TakenBack(this PracticeActs acts, TestPractice practice, Import import)
    {
        var (discarded, refused) = await acts.Get<TakeImportBack>().Do(new(import.Id), practice.By(PracticeRole.Manager), default);
        Assert.Equal((false, null), (discarded, refused));
        await acts.Get<ImportRun>().Run(practice.Name, import.Id, default);
        var back = (await acts.Get<ImportStore>().Load(practice.Name, import.Id, default))!;
        Assert.Equal(ImportState.TakenBack, back.State);
        return back;
    }

    private static async Task<Guid> SentIn(this PracticeActs acts, TestPractice practice, string key, string table)
    {
        var id = practice.Id(key);
        var (_, unread) = await acts.Get<SendTableIn>()
            .Do(new(id, $"{key}.csv", null, Encoding.UTF8.GetBytes(table)), practice.By(PracticeRole.Manager), default);
        Assert.Null(unread);
        return id;
    }
}
