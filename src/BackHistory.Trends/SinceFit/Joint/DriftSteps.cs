namespace BackHistory.Trends.SinceFit.Joint;

/// <summary>Steps of the process by days and pace: all patterns of a horse take the same few, between the same visits.</summary>
internal sealed class DriftSteps(double persistenceDays)
{
    const int Slots = 256;

    readonly (double Days, double Pace, DriftStep Step)[] _known = new (double, double, DriftStep)[Slots];

    internal DriftStep StepFor(double days, double pace)
    {
        var hash = BitConverter.DoubleToUInt64Bits(days) * 0x9E3779B97F4A7C15 ^ BitConverter.DoubleToUInt64Bits(pace) * 0xC2B2AE3D27D4EB4F;
        ref var slot = ref _known[(hash >> 40) % Slots];
        if (slot.Days != days || slot.Pace != pace)
            slot = (days, pace, DriftStep.For(days, pace, persistenceDays));
        return slot.Step;
    }
}
