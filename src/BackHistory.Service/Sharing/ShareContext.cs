using BackHistory.History.Sharing;

namespace BackHistory.Service.Sharing;

/// <summary>What somebody outside the practice may see just now, of one horse, and by what.</summary>
/// <param name="Practice">Of the link or the grant, never of the request.</param>
public sealed record ShareContext(
    string Practice,
    Guid HorseId,
    Guid? PersonId,
    SharedWith Role,
    SharedScope Scope,
    bool MayComment,
    Guid? LinkId,
    Guid? GrantId
)
{
    /// <summary>Of whoever reads: as the practice knows it, else as their browser asks.</summary>
    public ReportLanguage Language { get; init; }

    /// <summary>The owner answers; whoever treats the horse comments.</summary>
    public bool MayAnswer => Role is SharedWith.Owner or SharedWith.Rider;
}
