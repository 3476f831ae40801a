namespace BackHistory.Service.Web;

/// <summary>A form of a page as it was sent. Everything else in it is text until it is read, so that nothing typed is ever lost.</summary>
public abstract class TypedForm
{
    /// <summary>The same however often the form is sent.</summary>
    public string Key { get; set; } = "";

    /// <summary>Of what the page showed; null where it showed nothing that could have moved on.</summary>
    public long? Version { get; set; }

    /// <summary>A list as it was sent: where one place of it was not sent as a page sends it, the framework puts nothing in the place of
    /// the whole list.</summary>
    protected static List<T> Sent<T>(List<T>? list) => list ?? [];
}
