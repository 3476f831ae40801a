using BackHistory.History.Practices;

namespace BackHistory.Application.Tests.Practices;

/// <summary>A picture that a practice could have.</summary>
internal static class Samples
{
    /// <summary>Sixty by thirty pixels, from an encoder that is not ours.</summary>
    public static PracticePicture Picture { get; } =
        PracticePicture
            .From(
                Convert.FromBase64String(
                    "iVBORw0KGgoAAAANSUhEUgAAADwAAAAeCAIAAAD/+uoYAAAAM0lEQVR42u3OQQkAAAgEsEtqa/tcCh/CYAGWnbwTaW"
                        + "lpaWlpaWlpaWlpaWlpaWlpaekrBRLubxE2tObXAAAAAElFTkSuQmCC"
                )
            )
            .Picture!;
}
