using System.Net;
using System.Text.Json.Nodes;

namespace BackHistory.Attack.Tests.Attacked;

/// <param name="Text">The body, as far as it is text.</param>
/// <param name="Location">Where the answer leads.</param>
internal sealed record Answer(HttpStatusCode Status, string Text, string? Location = null)
{
    public bool Good => (int)Status is >= 200 and < 300;

    /// <summary>Why it was refused; null when it was not, or without a word.</summary>
    public string? Code => Json() is JsonObject o ? (string?)o["code"] : null;

    /// <summary>The body as JSON; null when it is none.</summary>
    public JsonNode? Json()
    {
        try
        {
            return JsonNode.Parse(Text);
        }
        catch (System.Text.Json.JsonException)
        {
            return null;
        }
    }
}
