using System.IO.Compression;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class FeedFileTests : IDisposable
{
    private readonly Fetcher fetcher = new();
    private readonly string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".csv");

    public void Dispose()
    {
        fetcher.Dispose();
        File.Delete(path);
    }

    [Fact]
    public async Task A_file_handed_in_is_read()
    {
        File.Copy(Samples.PathOf("station-daily.csv"), path);
        var fetched = await FetchAsync(path);
        Assert.Equal(File.ReadAllBytes(path), fetched.Body.ToArray());
        Assert.Equal(Path.GetFileName(path), fetched.Url);
    }

    [Fact]
    public async Task A_packed_file_is_unpacked()
    {
        using (var gzip = new GZipStream(File.Create(path), CompressionLevel.Fastest))
            gzip.Write(File.ReadAllBytes(Samples.PathOf("station-daily.csv")));
        Assert.Equal(File.ReadAllBytes(Samples.PathOf("station-daily.csv")), (await FetchAsync(path)).Body.ToArray());
    }

    [Fact]
    public async Task A_file_that_is_not_there_is_refused_without_its_folder() =>
        await RefusedAsync(path, FeedCodes.FileUnreadable);

    [Fact]
    public async Task A_feed_of_files_without_a_file_says_so() => await RefusedAsync(null, FeedCodes.RequestIncomplete);

    [Fact]
    public async Task A_file_longer_than_allowed_is_refused()
    {
        using (var file = File.Create(path))
            file.SetLength(9 * 1024 * 1024);
        await RefusedAsync(path, FeedCodes.TooLarge);
    }

    private Task<FetchedFeed> FetchAsync(string? upload) =>
        fetcher.Client.FetchAsync(FeedPresets.Find("station-daily-csv")!, Fetcher.Site, new FeedRequest(Fetcher.Today) { UploadPath = upload });

    private async Task RefusedAsync(string? upload, string code)
    {
        var refusal = await Assert.ThrowsAsync<FeedException>(() => FetchAsync(upload));
        Assert.Equal(code, refusal.Code);
        Assert.DoesNotContain(Path.GetTempPath(), refusal.Message, StringComparison.Ordinal);
    }
}
