using System.Net.Sockets;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class TornAnswerTests
{
    private const string Head = """
        HTTP/1.1 200 OK
        Content-Type: application/json
        Content-Length: 1000
        Connection: close


        """;

    private const string Whole = """
        HTTP/1.1 200 OK
        Content-Type: application/json
        Content-Length: 2
        Connection: close

        {}
        """;

    [Fact]
    public async Task A_body_that_drips_meets_the_deadline()
    {
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, Head, closing);
            for (var i = 0; i < 1000; i++)
            {
                await RawServer.SayAsync(stream, " ", closing);
                await Task.Delay(50, closing);
            }
        });
        using var fetcher = new Fetcher(deadline: TimeSpan.FromSeconds(1));
        var refusal = await fetcher.RefusedAsync(server.Url);
        Assert.Equal((FeedCodes.TooSlow, false), (refusal.Code, refusal.Permanent));
        Assert.Contains("within 1 s", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_head_that_drips_meets_the_deadline()
    {
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nX-Long: ", closing);
            for (var i = 0; i < 1000; i++)
            {
                await RawServer.SayAsync(stream, "x", closing);
                await Task.Delay(50, closing);
            }
        });
        using var fetcher = new Fetcher(deadline: TimeSpan.FromSeconds(1));
        Assert.Equal(FeedCodes.TooSlow, (await fetcher.RefusedAsync(server.Url)).Code);
    }

    [Fact]
    public async Task An_error_that_drips_meets_the_deadline_too()
    {
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, Head.Replace("200 OK", "404 Not Found", StringComparison.Ordinal), closing);
            for (var i = 0; i < 1000; i++)
            {
                await RawServer.SayAsync(stream, " ", closing);
                await Task.Delay(50, closing);
            }
        });
        using var fetcher = new Fetcher(deadline: TimeSpan.FromSeconds(1));
        Assert.Equal(FeedCodes.TooSlow, (await fetcher.RefusedAsync(server.Url)).Code);
    }

    [Fact]
    public async Task An_error_whose_text_takes_too_long_is_told_without_it()
    {
        using var server = new RawServer(async (_, stream, closing) =>
        {
            await RawServer.SayAsync(stream, Head.Replace("200 OK", "404 Not Found", StringComparison.Ordinal) + "begun", closing);
            await Task.Delay(Timeout.Infinite, closing);
        });
        using var fetcher = new Fetcher();
        var refusal = await fetcher.RefusedAsync(server.Url);
        Assert.Equal((FeedCodes.NotFound, "begun", null), (refusal.Code, refusal.Evidence!.Head, refusal.Evidence.Sha256));
    }

    [Fact]
    public async Task A_connection_that_is_reset_is_asked_again()
    {
        using var server = new RawServer((connection, stream, closing) =>
        {
            if (connection > 1)
                return RawServer.SayAsync(stream, Whole, closing);
            stream.Socket.LingerState = new LingerOption(true, 0); // Closing then sends a reset.
            stream.Socket.Close();
            return Task.CompletedTask;
        });
        using var fetcher = new Fetcher();
        await fetcher.FetchAsync(server.Url);
        Assert.Equal(2, server.Connections);
    }

    [Theory]
    [InlineData("zz\n{}\n0\n\n")]
    [InlineData("2\n{}")]
    [InlineData("-1\n{}\n0\n\n")]
    [InlineData("ffffffffffffffffff\n{}")]
    public async Task Chunks_that_are_none_are_refused(string chunks)
    {
        using var server = new RawServer((_, stream, closing) =>
            RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Type: application/json\nTransfer-Encoding: chunked\nConnection: close\n\n" + chunks, closing));
        using var fetcher = new Fetcher();
        Assert.Equal(FeedCodes.CutShort, (await fetcher.RefusedAsync(server.Url)).Code);
        Assert.Equal(3, server.Connections);
    }

    [Fact]
    public async Task What_came_of_a_cut_body_is_kept_as_evidence()
    {
        using var server = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, Head + "{\"daily\":", closing));
        using var fetcher = new Fetcher();
        var evidence = (await fetcher.RefusedAsync(server.Url)).Evidence!;
        Assert.Equal(new FeedEvidence(200, "application/json", 1000, "{\"daily\":", null), evidence);
    }

    [Fact]
    public async Task A_body_cut_short_is_asked_for_again()
    {
        using var server = new RawServer((connection, stream, closing) =>
            RawServer.SayAsync(stream, connection == 1 ? Head + "{" : Whole, closing));
        using var fetcher = new Fetcher();
        Assert.Equal("{}"u8.ToArray(), (await fetcher.FetchAsync(server.Url)).Body.ToArray());
        Assert.Equal(2, server.Connections);
    }

    [Fact]
    public async Task A_body_cut_short_every_time_is_refused()
    {
        using var server = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, Head + "{", closing));
        using var fetcher = new Fetcher();
        Assert.Equal(FeedCodes.CutShort, (await fetcher.RefusedAsync(server.Url)).Code);
        Assert.Equal(3, server.Connections);
    }

    [Fact]
    public async Task Bytes_that_are_no_http_are_refused()
    {
        using var server = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, "220 mail.alder-lane.example ESMTP\n", closing));
        using var fetcher = new Fetcher();
        Assert.Equal(FeedCodes.CutShort, (await fetcher.RefusedAsync(server.Url)).Code);
    }

    [Fact]
    public async Task A_server_without_a_safe_connection_is_refused_and_not_asked_again()
    {
        using var server = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, Whole, closing));
        using var fetcher = new Fetcher();
        Assert.Equal(FeedCodes.Tls, (await fetcher.RefusedAsync(server.Url.Replace("http:", "https:", StringComparison.Ordinal))).Code);
        Assert.Equal(1, server.Connections);
    }

    [Fact]
    public async Task A_host_where_nobody_listens_cannot_be_reached()
    {
        string url;
        using (var server = new RawServer((_, _, _) => Task.CompletedTask))
            url = server.Url;
        using var fetcher = new Fetcher();
        Assert.Equal(FeedCodes.Unreachable, (await fetcher.RefusedAsync(url)).Code);
    }

    [Fact]
    public async Task Plain_http_to_a_host_nobody_allowed_is_refused_by_the_client_as_well()
    {
        using var fetcher = new Fetcher();
        var json = FeedPresets.Find("open-meteo-daily")!.Json.Replace("https://api.open-meteo.com", "http://alder-lane.example", StringComparison.Ordinal);
        var described = FeedDescription.Parse(json, new HashSet<string> { "alder-lane.example:80" });
        var refusal = await Assert.ThrowsAsync<FeedException>(() => fetcher.Client.FetchAsync(described, Fetcher.Site, new FeedRequest(Fetcher.Today)));
        Assert.Equal(FeedCodes.RequestIncomplete, refusal.Code);
    }
}
