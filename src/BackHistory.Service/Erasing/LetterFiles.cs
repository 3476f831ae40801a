namespace BackHistory.Service.Erasing;

/// <summary>Letters that landed as files, where there is no mail server.</summary>
internal static class LetterFiles
{
    /// <summary>Erases letters by their ids, and any other that is addressed to this person.</summary>
    /// <returns>How many.</returns>
    public static int Erase(string folder, IReadOnlyList<Guid> letters, string? email)
    {
        if (!Directory.Exists(folder)) return 0;
        var erased = 0;
        foreach (var file in Directory.EnumerateFiles(folder, "*.eml", SearchOption.AllDirectories))
        {
            var mine = Guid.TryParse(Path.GetFileNameWithoutExtension(file), out var id) && letters.Contains(id);
            if (!mine && (email is null || !File.ReadAllText(file).Contains(email, StringComparison.OrdinalIgnoreCase))) continue;
            File.Delete(file);
            erased++;
        }

        return erased;
    }
}
