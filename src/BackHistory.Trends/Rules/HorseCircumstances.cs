namespace BackHistory.Trends.Rules;

/// <summary>What is known of the horse's life that the numbers do not tell.</summary>
/// <param name="Born">Date of birth, null = unknown.</param>
/// <param name="OutOfWork">Nothing but the interval of steady work and the forecast calls for a visit then.</param>
/// <param name="SaddleNewOrReflocked">Date of the last such work.</param>
public sealed record HorseCircumstances(
    DateOnly? Born = null,
    bool BackFromLayOff = false,
    bool ChangingWork = false,
    bool OutOfWork = false,
    DateOnly? SaddleNewOrReflocked = null
)
{
    public static HorseCircumstances Unknown { get; } = new();
}
