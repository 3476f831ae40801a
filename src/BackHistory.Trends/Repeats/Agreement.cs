namespace BackHistory.Trends.Repeats;

/// <summary>Agreement of two ways of measuring the same subjects (Bland and Altman 1986, Lancet i:307).</summary>
/// <param name="Bias">Mean of first minus second.</param>
/// <param name="Sd">Standard deviation of the differences.</param>
/// <param name="Low">Bias − 1.96 sd, the lower limit of agreement.</param>
/// <param name="High">Bias + 1.96 sd.</param>
/// <param name="Points">Mean and difference of each pair: the plot.</param>
public sealed record Agreement(double Bias, double Sd, double Low, double High, IReadOnlyList<(double Mean, double Difference)> Points);
