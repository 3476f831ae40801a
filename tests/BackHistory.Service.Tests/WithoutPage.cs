namespace BackHistory.Service.Tests;

/// <summary>Acts that no page leads to yet: other software does them over the interface.</summary>
internal static class WithoutPage
{
    public static readonly string[] Acts = [];
}
