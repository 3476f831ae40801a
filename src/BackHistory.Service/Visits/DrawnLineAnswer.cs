namespace BackHistory.Service.Visits;

/// <summary>All in millimetres.</summary>
public sealed record DrawnLineAnswer(string Name, int Points, double Length, double Left, double Right, double Bottom, double Top);
