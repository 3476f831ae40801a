namespace BackHistory.Service.Web;

/// <summary>A form of a page as it was sent. Everything else in it is text until it is read, so that nothing typed is ever lost.</summary>
public abstract class TypedForm
{
    /// <summary>The same however often the form is sent.</summary>
    public string Key { get; set; } = "";

    /// <summary>Of what the page showed; null where it showed nothing that could have moved on.</summary>
    public long? Version { get; set; }
}
