using BackHistory.History.Horses;
using BackHistory.Store.Rebuilds;

namespace BackHistory.Service.Horses;

/// <summary>A horse as the API answers it.</summary>
/// <param name="SetAside">What of it could not be worked out; empty when it is whole.</param>
/// <param name="MergedInto">It was a second registration: the horse in which its history goes on. Null for every other.</param>
/// <param name="Withdrawn">It was registered by mistake.</param>
public sealed record HorseAnswer(
    Guid Id,
    long Version,
    string Name,
    Sex? Sex,
    DateOnly? Foaled,
    int? HeightMm,
    string? Breed,
    string? Colour,
    Guid? OwnerId,
    Guid? YardId,
    int Visits,
    IReadOnlyList<SetAside> SetAside,
    Guid? MergedInto,
    bool Withdrawn
)
{
    public static HorseAnswer From(Horse h, IReadOnlyList<SetAside> aside, Horse? goesOnIn) =>
        new(
            h.Id,
            h.Version,
            h.Name,
            h.Sex,
            h.Foaled,
            h.HeightMm,
            h.Breed,
            h.Colour,
            h.OwnerId,
            h.YardId,
            h.Visits.Values.Count(v => !v.Withdrawn),
            aside,
            goesOnIn?.Id,
            h.Withdrawn
        );
}
