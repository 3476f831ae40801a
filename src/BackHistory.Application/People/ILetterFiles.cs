namespace BackHistory.Application.People;

/// <summary>Letters that landed as files, where there is no mail server. One folder holds those of every practice.</summary>
public interface ILetterFiles
{
    /// <summary>Erases letters by their own ids, and those about accounts and invitations that are gone. What stands in them is not
    /// read.</summary>
    /// <param name="letters">Of one person in one practice.</param>
    /// <param name="about">Ids of accounts and invitations.</param>
    /// <returns>How many.</returns>
    int Erase(IReadOnlyList<Guid> letters, IReadOnlyList<Guid> about);
}
