namespace BackHistory.Shape;

/// <summary>The value of a measure, or the reason why there is none; arithmetic carries the reason on.</summary>
internal readonly record struct Estimate(double Value, string? Why = null)
{
    internal static readonly Estimate NotCovered = new(double.NaN, "not covered");

    internal static Estimate Missing(string why) => new(double.NaN, why);

    public static implicit operator Estimate(double value) => new(value);
    public static Estimate operator +(Estimate a, Estimate b) => new(a.Value + b.Value, a.Why ?? b.Why);
    public static Estimate operator -(Estimate a, Estimate b) => new(a.Value - b.Value, a.Why ?? b.Why);
    public static Estimate operator *(Estimate a, Estimate b) => new(a.Value * b.Value, a.Why ?? b.Why);
    public static Estimate operator /(Estimate a, Estimate b) => new(a.Value / b.Value, a.Why ?? b.Why);

    internal Measure Named(string key, string unit) =>
        Why is not null ? new(key, null, unit, null, Why)
        : double.IsFinite(Value) ? new(key, Value, unit, null, null)
        : new(key, null, unit, null, "undefined");
}
