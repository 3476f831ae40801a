using BackHistory.Application.People;
using BackHistory.Service.Web;

namespace BackHistory.Service.People;

/// <summary>A yard as it is typed into a page.</summary>
public sealed class YardForm : TypedForm
{
    public string? Name { get; set; }

    public string? Town { get; set; }

    public string? Address { get; set; }

    public string? Latitude { get; set; }

    public string? Longitude { get; set; }

    /// <summary>Somebody looked: no yard of nearly the same name is this one.</summary>
    public bool IsAnother { get; set; }

    public YardDetails Read(FieldReader fields) =>
        new(
            fields.Needed("name", Name, "A yard needs a name."),
            FieldReader.Text(Town),
            FieldReader.Text(Address),
            fields.Number("latitude", Latitude),
            fields.Number("longitude", Longitude)
        );
}
