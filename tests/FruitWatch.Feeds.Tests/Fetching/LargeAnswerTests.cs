using System.IO.Compression;
using System.Text;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>Alone, since what is allocated is counted for the whole process.</summary>
[CollectionDefinition(nameof(LargeAnswerTests), DisableParallelization = true)]
[Collection(nameof(LargeAnswerTests))]
public sealed class LargeAnswerTests
{
    private const int Megabyte = 1024 * 1024;

    [Theory]
    [InlineData(2)]
    [InlineData(8)]
    public async Task A_bomb_of_two_hundred_megabytes_takes_little_memory(int megabytesAllowed)
    {
        var bomb = Packed(200);
        using var server = new RawServer((_, stream, closing) => SendAsync(stream, bomb, "Content-Encoding: gzip\n", closing));
        using var fetcher = new Fetcher();

        var before = GC.GetTotalAllocatedBytes(precise: true);
        var refusal = await fetcher.RefusedAsync(server.Url, json => json["request"]!["maxBytes"] = megabytesAllowed * Megabyte);
        var allocated = GC.GetTotalAllocatedBytes(precise: true) - before;

        Assert.True(bomb.Length < megabytesAllowed * Megabyte, "the packed form must pass the limit, or the test shows nothing");
        Assert.Equal(FeedCodes.TooLarge, refusal.Code);
        Assert.True(allocated < 50 * Megabyte, $"{allocated / Megabyte} MB were allocated");
        TestContext.Current.TestOutputHelper?.WriteLine($"{allocated / 1024} KB allocated");
        Assert.Equal(1, server.Connections);
    }

    [Fact]
    public async Task A_packed_file_of_two_hundred_megabytes_takes_little_memory_as_well()
    {
        var bomb = Packed(200);
        using var server = new RawServer((_, stream, closing) => SendAsync(stream, bomb, "", closing));
        using var fetcher = new Fetcher();
        var before = GC.GetTotalAllocatedBytes(precise: true);
        var refusal = await fetcher.RefusedAsync(server.Url, json =>
        {
            json["request"]!["fileEncoding"] = "gzip";
            json["request"]!["maxBytes"] = 2 * Megabyte;
        });
        var allocated = GC.GetTotalAllocatedBytes(precise: true) - before;
        Assert.Equal(FeedCodes.TooLarge, refusal.Code);
        Assert.True(allocated < 50 * Megabyte, $"{allocated / Megabyte} MB were allocated");
    }

    [Fact]
    public async Task A_body_announced_as_too_long_is_not_begun()
    {
        var sent = 0L;
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, $"HTTP/1.1 200 OK\nContent-Type: application/json\nContent-Length: {20 * Megabyte}\n\n", closing);
            for (; sent < 20 * Megabyte; sent += 65_536)
                await stream.WriteAsync(new byte[65_536], closing);
        });
        using var fetcher = new Fetcher();
        var refusal = await fetcher.RefusedAsync(server.Url);
        Assert.Equal((FeedCodes.TooLarge, true, 20L * Megabyte), (refusal.Code, refusal.Permanent, refusal.Evidence!.Bytes));
        Assert.Null(refusal.Evidence.Head);
        Assert.True(sent < 20 * Megabyte, "the whole body was taken");
    }

    [Fact]
    public async Task A_body_that_does_not_say_its_length_is_left_at_the_limit()
    {
        var sent = 0L;
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Type: application/json\nConnection: close\n\n", closing);
            for (; sent < 40 * Megabyte; sent += 65_536)
                await stream.WriteAsync(Encoding.ASCII.GetBytes(new string(' ', 65_536)), closing);
        });
        using var fetcher = new Fetcher();
        var refusal = await fetcher.RefusedAsync(server.Url);
        Assert.Equal((FeedCodes.TooLarge, null), (refusal.Code, refusal.Evidence!.Sha256));
        Assert.True(sent < 40 * Megabyte, "the whole body was taken");
    }

    private static async Task SendAsync(System.Net.Sockets.NetworkStream stream, byte[] body, string headers, CancellationToken closing)
    {
        await RawServer.SayAsync(stream, $"HTTP/1.1 200 OK\nContent-Type: application/json\n{headers}Content-Length: {body.Length}\n\n", closing);
        await stream.WriteAsync(body, closing);
    }

    private static byte[] Packed(int megabytes)
    {
        var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest))
        {
            var zeros = new byte[Megabyte];
            for (var i = 0; i < megabytes; i++)
                gzip.Write(zeros);
        }
        return packed.ToArray();
    }
}
