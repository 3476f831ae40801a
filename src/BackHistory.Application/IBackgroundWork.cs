namespace BackHistory.Application;

/// <summary>Work that nobody waits for: asked for here, done by whoever hosts the acts, again after an interruption, at least
/// once.</summary>
public interface IBackgroundWork
{
    /// <summary>Enters an import or takes it back, whichever was begun.</summary>
    void GoOnWithImport(string practice, Guid importId);

    /// <summary>Builds what is read of a practice's horses anew.</summary>
    void RebuildReadModels(string practice);
}
