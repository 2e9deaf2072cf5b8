using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>A server that says exactly what the test tells it to, byte by byte, for answers no proper server gives.</summary>
internal sealed class RawServer : IDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource closing = new();
    private int connections;

    /// <param name="answer">Given the number of the connection, from 1, and the stream after the request was read.</param>
    public RawServer(Func<int, NetworkStream, CancellationToken, Task> answer)
    {
        listener.Start();
        _ = AcceptAsync(answer);
    }

    public string Url => $"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/daily";

    public int Connections => connections;

    public static async Task SayAsync(NetworkStream stream, string text, CancellationToken cancellation) =>
        await stream.WriteAsync(Encoding.ASCII.GetBytes(text.ReplaceLineEndings("\r\n")), cancellation);

    public void Dispose()
    {
        closing.Cancel();
        listener.Stop();
        closing.Dispose();
    }

    private async Task AcceptAsync(Func<int, NetworkStream, CancellationToken, Task> answer)
    {
        var token = closing.Token;
        while (!token.IsCancellationRequested)
        {
            try
            {
                using var connection = await listener.AcceptTcpClientAsync(token);
                await using var stream = connection.GetStream();
                _ = await stream.ReadAsync(new byte[8192], token);
                await answer(++connections, stream, token);
            }
            catch (Exception fault) when (fault is IOException or SocketException or OperationCanceledException or ObjectDisposedException)
            {
                // The client went away, which is what several tests are about.
            }
        }
    }
}
