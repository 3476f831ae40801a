using BackHistory.History.Horses;

namespace BackHistory.Service.Horses;

public sealed record HorseRequest(
    string Name,
    Sex? Sex,
    DateOnly? Foaled,
    int? HeightMm,
    string? Breed,
    string? Colour,
    Guid? OwnerId,
    Guid? YardId,
    string? Reason
)
{
    public HorseDetails Details => new(Name, Sex, Foaled, HeightMm, Breed, Colour);
}
