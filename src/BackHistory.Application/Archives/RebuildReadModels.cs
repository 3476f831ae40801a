namespace BackHistory.Application.Archives;

/// <summary>What is read of the practice's horses is to be built anew, behind what goes on.</summary>
public sealed class RebuildReadModels(IBackgroundWork work) : IAct
{
    public static Right Needs => Right.Administer;

    public void Do(Caller by) => work.RebuildReadModels(by.Context.Tenant);
}
