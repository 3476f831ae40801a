namespace BackHistory.Service.Practices;

/// <param name="Horses">Five by common practice, no source.</param>
public sealed record BeginStudyRequest(string Method, int? Horses, int? Times);
