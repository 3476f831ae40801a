using System.Text.Json.Serialization;
using BackHistory.Application.Practices;
using BackHistory.Service.Web;

namespace BackHistory.Service.Practices;

/// <summary>How the practice is reached, as it is typed into a page.</summary>
public sealed class ContactForm : TypedForm
{
    public string? Address { get; set; }

    public string? Phone { get; set; }

    public string? ReplyTo { get; set; }

    [JsonIgnore]
    public IFormFile? Picture { get; set; }

    /// <summary>Of what was sent, in its place: the same key with another picture is another act.</summary>
    public string? Hash { get; set; }

    public bool WithoutPicture { get; set; }

    public ContactDetails Read() => new(FieldReader.Text(Address), FieldReader.Text(Phone), FieldReader.Text(ReplyTo));
}
