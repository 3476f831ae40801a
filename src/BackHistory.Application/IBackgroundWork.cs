namespace BackHistory.Application;

/// <summary>Work that nobody waits for: asked for here, done by whoever hosts the acts, again after an interruption, at least
/// once.</summary>
public interface IBackgroundWork
{
    /// <summary>Learn from a practice's horses and hands.</summary>
    /// <param name="key">What is learned under one key is recorded once.</param>
    void Learn(string practice, Guid actor, Guid key);

    /// <summary>Try rules on a practice's own history, as they were put down under this id.</summary>
    void TryRules(string practice, Guid runId);

    /// <summary>Enters an import or takes it back, whichever was begun.</summary>
    void GoOnWithImport(string practice, Guid importId);

    /// <summary>Builds what is read of a practice's horses anew.</summary>
    void RebuildReadModels(string practice);
}
