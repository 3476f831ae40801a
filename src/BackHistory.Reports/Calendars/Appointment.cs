namespace BackHistory.Reports.Calendars;

/// <summary>A booked visit.</summary>
public sealed record Appointment
{
    /// <summary>Stays the same through every change; the calendar's UID.</summary>
    public required Guid Id { get; init; }

    /// <summary>Counts changes from 0; the calendar's SEQUENCE. A higher one replaces a lower one in the reader's calendar.</summary>
    public required int Version { get; init; }

    public required DateTimeOffset Start { get; init; }

    public required DateTimeOffset End { get; init; }

    /// <summary>When this version was made; the calendar's DTSTAMP.</summary>
    public required DateTimeOffset ChangedAt { get; init; }

    /// <summary>One line, as the reader shall see it in the calendar.</summary>
    public required string Summary { get; init; }

    public string Place { get; init; } = "";

    public string Notes { get; init; } = "";

    public bool Cancelled { get; init; }

    public string? Url { get; init; }
}
