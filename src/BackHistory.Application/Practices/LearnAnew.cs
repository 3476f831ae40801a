namespace BackHistory.Application.Practices;

/// <summary>Somebody does not want to wait for the weekly learning.</summary>
public sealed class LearnAnew(IBackgroundWork work) : IAct
{
    public static Right Needs => Right.Manage;

    /// <param name="Key">What is learned under one key is recorded once.</param>
    public sealed record Input(Guid Key);

    public void Do(Input input, Caller by) => work.Learn(by.Context.Tenant, by.Context.Actor, input.Key);
}
