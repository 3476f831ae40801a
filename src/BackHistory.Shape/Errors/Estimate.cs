namespace BackHistory.Shape.Errors;

/// <summary>
/// The value of a measure with its derivatives, or the reason why there is none. Arithmetic carries both on, so that a measure made of
/// others has its standard error, correlations included, without a word.
/// </summary>
internal readonly record struct Estimate(double Value, Gradient? Gradient = null, string? Why = null)
{
    internal static readonly Estimate NotCovered = new(double.NaN, Why: "not covered");

    internal static Estimate Missing(string why) => new(double.NaN, Why: why);

    public static implicit operator Estimate(double value) => new(value);

    public static Estimate operator +(Estimate a, Estimate b) => Combine(a.Value + b.Value, a, 1, b, 1);

    public static Estimate operator -(Estimate a, Estimate b) => Combine(a.Value - b.Value, a, 1, b, -1);

    public static Estimate operator *(Estimate a, Estimate b) => Combine(a.Value * b.Value, a, b.Value, b, a.Value);

    public static Estimate operator /(Estimate a, Estimate b) =>
        Combine(a.Value / b.Value, a, 1 / b.Value, b, -a.Value / (b.Value * b.Value));

    /// <summary>The same value with a wider standard error, where simulation says that linear theory is too sure.</summary>
    internal Estimate Widened(double factor) => this with { Gradient = Errors.Gradient.Combine(factor, Gradient, 0, null) };

    private static Estimate Combine(double value, Estimate a, double byA, Estimate b, double byB) =>
        (a.Why ?? b.Why) is { } why ? Missing(why) : new(value, Errors.Gradient.Combine(byA, a.Gradient, byB, b.Gradient));

    /// <summary>The finished measure; the derivatives are used up. A value that any noise at all would turn to anything is none.</summary>
    internal Measure Named(string key, string unit, Sensitivity errors)
    {
        if (Why is not null)
            return new(key, null, unit, null, Why);
        var sd = double.IsFinite(Value) ? errors.StandardError(Gradient) : double.NaN;
        return double.IsFinite(sd) ? new(key, Value, unit, sd, null) : new(key, null, unit, null, "undefined");
    }
}
