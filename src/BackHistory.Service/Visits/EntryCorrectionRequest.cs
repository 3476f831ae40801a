using System.Text.Json;

namespace BackHistory.Service.Visits;

public sealed record EntryCorrectionRequest(JsonElement Entry, string Reason);
