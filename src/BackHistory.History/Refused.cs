namespace BackHistory.History;

/// <summary>Why a command was not carried out: a named value with a sentence for a person.</summary>
/// <param name="Code">Stable, kebab-case; the <c>type</c> of the problem details.</param>
/// <param name="Message">What is wrong, what was kept and what to do.</param>
/// <param name="Place">Where in the request, for example <c>entries[2]</c>; null for the whole.</param>
public sealed record Refused(string Code, string Message, RefusalKind Kind = RefusalKind.Invalid, string? Place = null);
