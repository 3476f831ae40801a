using System.Text.Json;
using BackHistory.History.Horses;

namespace BackHistory.Service.Visits;

/// <summary>A visit as it is sent in: conditions, then entries in any order.</summary>
/// <param name="Id">The caller's own id for the visit, so that a visit made offline keeps it; made here when left out.</param>
/// <param name="TakenAt">When it was true, with an offset.</param>
/// <param name="By">The person who measured; the signed-in person when left out.</param>
/// <param name="Method">With what, for example flexible-curve.</param>
/// <param name="Entries">
/// Each has a <c>kind</c>: <c>cross-section</c> and <c>topline</c> in the form of the <c>measure</c> verb, with <c>calibration</c>
/// (width, height, known: at, mm; residual, picture) where they were traced from a picture; <c>reading</c> (measure, station, value);
/// <c>condition</c> (score); <c>muscle</c> (site, scale, score); <c>weight</c> (value, unit kg or lb); <c>girth</c> (girth, length, unit
/// cm, mm or in); <c>height</c> (withers, croup, unit cm, mm or in); <c>note</c> (words).
/// </param>
public sealed record VisitRequest(
    Guid? Id,
    DateTimeOffset TakenAt,
    Guid? By,
    string Method,
    VisitConditions? Conditions,
    IReadOnlyList<JsonElement>? Entries
);

internal sealed record ReadingRequest(string Kind, string Measure, string? Station, double Value, Guid? EntryId);

internal sealed record ConditionRequest(string Kind, double Score, Guid? EntryId);

internal sealed record MuscleRequest(string Kind, string Site, string? Scale, double Score, Guid? EntryId);

internal sealed record WeightRequest(string Kind, double Value, string Unit, Guid? EntryId);

internal sealed record GirthRequest(string Kind, double Girth, double Length, string Unit, Guid? EntryId);

internal sealed record NoteRequest(string Kind, string Words, Guid? EntryId);

internal sealed record HeightRequest(string Kind, double Withers, double? Croup, string Unit, Guid? EntryId);
