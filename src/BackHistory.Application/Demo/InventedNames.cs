namespace BackHistory.Application.Demo;

/// <summary>Names made of parts: nobody's, and no horse's that is known.</summary>
internal static class InventedNames
{
    private static readonly string[] HorseFirst =
    [
        "Amber",
        "Birch",
        "Cinder",
        "Dapple",
        "Ember",
        "Fallow",
        "Garnet",
        "Hazel",
        "Iris",
        "Juniper",
        "Kestrel",
        "Larch",
        "Marble",
        "Nettle",
        "Oat",
        "Pebble",
        "Quill",
        "Russet",
        "Sorrel",
        "Thistle",
        "Umber",
        "Velvet",
        "Willow",
        "Yarrow",
        "Bramble",
        "Copper",
        "Drift",
        "Fern",
        "Harrow",
        "Moss",
    ];

    private static readonly string[] HorseSecond = ["", " Lane", " Brook", " Song", " Hill", " Grey", " Light", " Sky", " Stone", " Wind"];

    private static readonly string[] Given =
    [
        "Ada",
        "Ben",
        "Clara",
        "Dora",
        "Emil",
        "Frieda",
        "Gus",
        "Hanna",
        "Ivo",
        "Jana",
        "Karl",
        "Lena",
        "Milo",
        "Nora",
        "Otto",
        "Paula",
        "Rhea",
        "Sten",
        "Tilda",
        "Uwe",
        "Vera",
        "Wim",
        "Yara",
        "Zeno",
    ];

    private static readonly string[] FamilyFirst =
    [
        "Hollow",
        "Marsh",
        "Oaken",
        "Rook",
        "Stead",
        "Thorn",
        "Winter",
        "Ash",
        "Brand",
        "Clover",
    ];

    private static readonly string[] FamilySecond = ["field", "wick", "mere", "stone", "ridge", "ford", "berg", "lund"];

    private static readonly string[] YardFirst = ["Upper", "Lower", "Old", "Far", "Mill", "Chalk", "Heather", "Long"];

    private static readonly string[] YardSecond = ["Barn", "Paddock", "Meadow", "Court", "Stables"];

    public static readonly string[] Breeds =
    [
        "warmblood",
        "cob",
        "thoroughbred cross",
        "draught cross",
        "riding pony",
        "native pony",
        "trotter",
        "baroque type",
    ];

    public static readonly string[] Colours = ["bay", "dark bay", "chestnut", "grey", "black", "dun", "roan", "piebald"];

    public static string Horse(int index)
    {
        var name = HorseFirst[index % HorseFirst.Length] + HorseSecond[index / HorseFirst.Length % HorseSecond.Length];
        return name;
    }

    public static string Person(Chance chance) => $"{chance.OneOf(Given)} {chance.OneOf(FamilyFirst)}{chance.OneOf(FamilySecond)}";

    public static string Yard(int index) =>
        $"{YardFirst[index % YardFirst.Length]} {YardSecond[index / YardFirst.Length % YardSecond.Length]}";
}
