namespace BackHistory.Application;

/// <summary>Work that nobody waits for, begun by an act. Begun twice for one thing it is done once.</summary>
public interface IBackgroundWork
{
    /// <summary>Learn from a practice's horses and hands.</summary>
    /// <param name="key">What is learned under one key is recorded once.</param>
    void Learn(string practice, Guid actor, Guid key);

    /// <summary>Try rules on a practice's own history, as they were put down under this id.</summary>
    void TryRules(string practice, Guid runId);
}
