using BackHistory.Service.Web;

namespace BackHistory.Service.Horses;

/// <summary>The numbers of a horse as they are typed into a page.</summary>
public sealed class IdentityForm : TypedForm
{
    public string? Microchip { get; set; }

    public string? Passport { get; set; }

    /// <summary>Further numbers that are ticked. Binding gives null where none was sent.</summary>
    public List<string> Erase
    {
        get;
        set => field = Sent(value);
    } = [];
}
