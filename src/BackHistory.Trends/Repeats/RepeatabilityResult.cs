namespace BackHistory.Trends.Repeats;

/// <summary>What repeated measurements say about the hand that takes them; a figure that the table cannot give is null.</summary>
/// <param name="WithinSd">Within-subject standard deviation, one-way analysis of variance (Bland and Altman 1996, BMJ 313:744).</param>
/// <param name="Df">Its degrees of freedom.</param>
/// <param name="MinimalDetectable">1.96·√2·<paramref name="WithinSd"/>: two single measurements differ by less 95 times in 100 without
/// any change.</param>
/// <param name="Icc11">Intraclass correlation, raters drawn anew for each subject (Shrout and Fleiss 1979, Psychol. Bull. 86:420).</param>
/// <param name="Icc21">The same raters, drawn from many, absolute agreement.</param>
/// <param name="Icc31">The same fixed raters, consistency.</param>
public sealed record RepeatabilityResult(double? WithinSd, int Df, double? MinimalDetectable, double? Icc11, double? Icc21, double? Icc31);
