namespace BackHistory.Application.Sharing;

/// <summary>To whom a horse is shown: somebody whom the practice knows, or an address.</summary>
public abstract record Recipient
{
    private Recipient() { }

    public sealed record Known(Guid PersonId) : Recipient;

    /// <summary>Whoever has this address here, or a new person of this name.</summary>
    /// <param name="PersonId">Of the new person.</param>
    public sealed record ByAddress(Guid PersonId, string? Name, string? Email) : Recipient;
}
