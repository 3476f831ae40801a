using BackHistory.Application;

namespace BackHistory.Service.Web;

/// <summary>A caller who saw something on a page.</summary>
internal static class SeeingCaller
{
    /// <summary>A form that does not say what it showed is answered as one that showed something else.</summary>
    public static Caller Seeing(this Caller by, string? shown) => by with { Context = by.Context with { Shown = shown ?? "" } };
}
