using System.Text.Json;

namespace BackHistory.Service.Visits;

public sealed record EntriesRequest(IReadOnlyList<JsonElement> Entries);
