namespace BackHistory.Store.Imports;

/// <param name="Entered">Lines that entered something; when taken back: what was.</param>
/// <param name="Already">Lines whose content was here before; when taken back: what stays because something else rests on it.</param>
public sealed record ImportCounts(int Entered, int Already, int Refused);
