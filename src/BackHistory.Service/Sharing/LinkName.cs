namespace BackHistory.Service.Sharing;

/// <summary>Which link it is; what it shows, and whether it still does, stands with the horse.</summary>
public sealed record LinkName(string Practice, Guid HorseId, Guid LinkId);
