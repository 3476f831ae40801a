namespace BackHistory.Service.Web;

/// <summary>How much a request may bring.</summary>
public static class BodyLimits
{
    /// <summary>A visit of many dense tracings is well under this; whatever is larger is refused before it is read.</summary>
    public const long Most = 8L << 20;
}
