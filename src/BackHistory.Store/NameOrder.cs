namespace BackHistory.Store;

/// <summary>
/// In which order names stand: by the Unicode Collation Algorithm with CLDR's root order, so that Ä stands beside A and Zorn after both,
/// whatever the database's own locale is. PostgreSQL has it by this name wherever it was built with ICU, as every packaged one is.
/// Source: Unicode Technical Standard 10; PostgreSQL, "Collation Support", 24.2.2.
/// </summary>
internal static class NameOrder
{
    public const string Collation = "und-x-icu";

    /// <summary>After an expression in SQL. Names that this order takes for equal are ordered by their bytes, so a place in a list is one
    /// place.</summary>
    public const string By = "collate \"und-x-icu\"";

    /// <summary>The same order for lists that are in memory.</summary>
    public static StringComparer InMemory => StringComparer.InvariantCulture;
}
