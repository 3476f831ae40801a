namespace BackHistory.Application;

/// <summary>Tells whoever follows a practice that something happened there, after it was committed. Losing such a word loses
/// nothing.</summary>
public interface IChangeNotifier
{
    void SomethingHappened(string practice);
}
