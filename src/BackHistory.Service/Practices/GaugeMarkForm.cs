namespace BackHistory.Service.Practices;

/// <summary>One mark of a gauge as it is typed or pasted into a page.</summary>
public sealed class GaugeMarkForm
{
    public string? Name { get; set; }

    /// <summary>Its place on the gauge's own scale; empty where its name is that number, or where marks count 0, 1, 2.</summary>
    public string? Position { get; set; }

    /// <summary>Degrees or millimetres.</summary>
    public string? Value { get; set; }

    internal bool IsEmpty => string.IsNullOrWhiteSpace(Name) && string.IsNullOrWhiteSpace(Position) && string.IsNullOrWhiteSpace(Value);
}
