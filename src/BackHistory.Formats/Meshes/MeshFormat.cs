namespace BackHistory.Formats.Meshes;

public enum MeshFormat
{
    Obj,
    Ply,
    Stl,
}
