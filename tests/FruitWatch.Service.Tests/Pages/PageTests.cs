namespace FruitWatch.Service.Tests.Pages;

public sealed class PageTests
{
    [Fact]
    public async Task All_pages_answer()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client();
        foreach (var path in new[] { "/", "/beds/1", "/beds/1?log=watered", "/beds/4", "/mail", "/mail/1", "/mail/1/html", "/notices", "/notices?state=open", "/openapi/v1.json", "/api/v1/beds", "/api/v1/beds/1/account?format=csv", "/api/v1/notices", "/site.css" })
        {
            var answer = await client.GetAsync(path);
            var text = await answer.Content.ReadAsStringAsync();
            File.WriteAllText("/tmp/pages/" + path.Replace('/', '_').Replace('?', '-') + ".txt", text);
            Assert.True(answer.IsSuccessStatusCode, $"{path} {answer.StatusCode} {string.Join("\n", service.Faults.Told)}");
        }
    }
}
