using BackHistory.Application.People;
using BackHistory.History.Practices;
using BackHistory.Service.Web;

namespace BackHistory.Service.People;

/// <summary>A person as they are typed into a page.</summary>
public sealed class PersonForm : TypedForm
{
    public string? Name { get; set; }

    public string? Email { get; set; }

    public string? Phone { get; set; }

    public string? Address { get; set; }

    public string? Role { get; set; }

    public string? Language { get; set; }

    public string? TimeZone { get; set; }

    /// <summary>Somebody looked: nobody of nearly the same name or the same address is this one.</summary>
    public bool IsAnother { get; set; }

    /// <summary>A form that holds what is known.</summary>
    public static PersonForm From(Person person, string key) =>
        new()
        {
            Key = key,
            Version = person.Version,
            Name = person.Name,
            Email = person.Email,
            Phone = person.Phone,
            Address = person.Address,
            Role = person.Role.ToString(),
            Language = person.Language,
            TimeZone = person.TimeZone,
        };

    public PersonDetails Read(FieldReader fields) =>
        new(
            fields.Needed("name", Name, "A person needs a name."),
            FieldReader.Text(Email),
            FieldReader.Text(Phone),
            FieldReader.Text(Address),
            fields.Choice<PersonRole>("role", Role),
            FieldReader.Text(Language),
            FieldReader.Text(TimeZone)
        );
}
