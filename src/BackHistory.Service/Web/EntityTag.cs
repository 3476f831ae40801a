using System.Globalization;

namespace BackHistory.Service.Web;

/// <summary>A version as a request gives it back: <c>"12"</c> with its quotes, as HTTP writes an entity tag (RFC 9110, 8.8.3).</summary>
public static class EntityTag
{
    public static string TagFor(long version) => string.Create(CultureInfo.InvariantCulture, $"\"{version}\"");
}
