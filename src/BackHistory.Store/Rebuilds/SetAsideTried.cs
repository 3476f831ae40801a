namespace BackHistory.Store.Rebuilds;

/// <summary>Which release tried last to work out what was set aside. One document for the whole store.</summary>
public sealed record SetAsideTried(string Id, string Release)
{
    public const string TheStore = "this store";
}
