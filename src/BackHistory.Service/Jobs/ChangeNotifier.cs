using System.Threading.Channels;
using BackHistory.Application;

namespace BackHistory.Service.Jobs;

/// <summary>
/// Tells the evaluation that something happened in a practice, after the commit. Losing such a word loses nothing: the recurring job
/// finds whatever was not evaluated.
/// </summary>
public sealed class ChangeNotifier : IChangeNotifier
{
    private readonly Channel<string> _practices = Channel.CreateBounded<string>(
        new BoundedChannelOptions(1000) { FullMode = BoundedChannelFullMode.DropOldest }
    );

    public void SomethingHappened(string practice) => _practices.Writer.TryWrite(practice);

    internal ChannelReader<string> Practices => _practices.Reader;
}
