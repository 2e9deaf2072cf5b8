using FruitWatch.Store.Mapping;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public sealed class DurationColumnTests
{
    [Fact]
    public async Task A_span_is_kept_in_milliseconds_and_ordered_by_length()
    {
        var file = Path.GetTempFileName();
        Duration[] spans = [-Duration.FromDays(1), Duration.Zero, Duration.FromMilliseconds(1.9), Duration.FromHours(30), Duration.FromDays(400)];
        await using (var spansKept = new SpansKept(file))
        {
            await spansKept.Database.EnsureCreatedAsync();
            spansKept.AddRange(spans.Reverse().Select(span => new SpanKept { Span = span }));
            await spansKept.SaveChangesAsync();
        }

        await using (var reading = new SpansKept(file))
        {
            spans[2] = Duration.FromMilliseconds(1);
            Assert.Equal(spans, await reading.Set<SpanKept>().OrderBy(kept => kept.Span).Select(kept => kept.Span).ToListAsync());
        }

        File.Delete(file);
    }

    private sealed class SpansKept(string file) : DbContext(
        new DbContextOptionsBuilder().UseSqlite($"Data Source={file};Pooling=False").Options)
    {
        protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder) => configurationBuilder.KeepTimes();

        protected override void OnModelCreating(ModelBuilder modelBuilder) => modelBuilder.Entity<SpanKept>();
    }

    private sealed class SpanKept
    {
        public long Id { get; set; }

        public Duration Span { get; set; }
    }
}
