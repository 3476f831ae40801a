using BackHistory.Testing;

[assembly: AssemblyFixture(typeof(BackHistory.Attack.Tests.SharedServer))]

namespace BackHistory.Attack.Tests;

/// <summary>Stops the PostgreSQL of this run when the last test is over.</summary>
public sealed class SharedServer : IAsyncDisposable
{
    public async ValueTask DisposeAsync() => await TestServer.Stop();
}
