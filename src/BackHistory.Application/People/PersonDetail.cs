namespace BackHistory.Application.People;

/// <summary>The details of a person that can be left as they are when others are changed; the name is always said.</summary>
[Flags]
public enum PersonDetail
{
    None = 0,
    Email = 1,
    Phone = 2,
    Address = 4,
    Role = 8,
    Language = 16,
    TimeZone = 32,
}
