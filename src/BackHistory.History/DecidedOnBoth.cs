namespace BackHistory.History;

/// <summary>What follows from one command on two streams of a kind.</summary>
/// <param name="First">Events of the stream that the command is given to.</param>
/// <param name="Second">Events of the other, in which the outcome stands.</param>
public readonly record struct DecidedOnBoth(IReadOnlyList<object> First, IReadOnlyList<object> Second, Refused? Refused)
{
    public static implicit operator DecidedOnBoth(Refused refused) => new([], [], refused);
}
