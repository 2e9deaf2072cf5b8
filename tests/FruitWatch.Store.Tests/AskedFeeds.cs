using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Store.Tests;

/// <summary>One row of each table that tells how feeds are asked, every field filled.</summary>
internal static class AskedFeeds
{
    public static object[] OneOfEach(long cooperativeId, long siteId, long feedId) =>
    [
        new SiteFeed
        {
            SiteId = siteId,
            FeedId = feedId,
            LastGoodAt = AlderLane.Odd,
            LastTriedAt = AlderLane.Odd + Duration.FromHours(1),
            FirstTriedAt = AlderLane.Odd - Duration.FromDays(3),
            NextTryAt = AlderLane.Odd + Duration.FromHours(2),
            ProblemCode = "body.tooSlow",
            Problem = "The feed did not send the whole answer within 20 s.",
            Evidence = """{"status":200}""",
            Waiting = true,
            FailuresInARow = 2,
            LastDay = AlderLane.LeapDay,
            Notes = """[{"code":"time.gap"}]""",
            Question = """{"code":"feed.suspectUnits"}""",
            UnitsConfirmed = 3,
            TriedVersion = 4,
            Captures = """{"grid":"https://weather.example/grid/1,2"}""",
            SilenceToldAt = AlderLane.Odd,
        },
        new FeedAnswer
        {
            FeedId = feedId,
            Place = "https://weather.example/daily?lat=-33.1235&start={start}",
            Asked = "https://weather.example/daily?lat=-33.1235&start=2024-02-29",
            MediaType = "application/json",
            Body = [0x1F, 0x8B, 0x00, 0xFF],
            Length = 70_000,
            FetchedAt = AlderLane.Odd,
            CheckedAt = AlderLane.Odd + Duration.FromMinutes(3),
            Expires = AlderLane.Odd + Duration.FromHours(1),
            Etag = "W/\"a-ñ\"",
            LastModified = "Thu, 29 Feb 2024 11:00:00 GMT",
            Notes = "[]",
        },
        new FeedHost
        {
            Authority = "https://weather.example",
            PausedUntil = AlderLane.Odd,
            RefusalsInARow = 2,
            FailuresInARow = 5,
            RestsUntil = AlderLane.Odd + Duration.FromMinutes(10),
            ChangedAt = AlderLane.Odd,
        },
        new FeedDraft
        {
            Id = new Guid("4f2d7a52-4a04-4c0e-9c3b-0d5c3f6f3a11"),
            CooperativeId = cooperativeId,
            FeedId = feedId,
            SiteId = siteId,
            Station = "ZZ000000001",
            Title = "Otra estación",
            Description = "{}",
            SealedKey = "sealed",
            Asked = "rain.csv",
            MediaType = "text/csv",
            Body = [0x1F, 0x8B],
            FetchedAt = AlderLane.Odd,
            Good = true,
            MadeAt = AlderLane.Odd,
        },
        new Backfill
        {
            SiteId = siteId,
            FeedId = feedId,
            First = AlderLane.LeapDay.PlusYears(-30),
            Last = AlderLane.LeapDay,
            Next = AlderLane.LeapDay.PlusYears(-7),
            DaysKept = 8401,
            Requests = 23,
            State = BackfillState.Stuck,
            Problem = "The host asks for a key.",
            FailuresInARow = 1,
            NextTryAt = AlderLane.Odd,
            LeaseUntil = AlderLane.Odd,
            StartedAt = AlderLane.Odd,
            ProgressAt = AlderLane.Odd,
        },
    ];
}
