package browser

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

const turnPage = `window.turnPage = async (path) => {
	const text = await (await fetch(%q + path)).text();
	const page = new DOMParser().parseFromString(text, "text/html");
	const main = document.querySelector("main");
	main.replaceChildren(...page.querySelector("main").childNodes);
	await null;
	return main;
};0`

func TestUnitsDump(t *testing.T) {
	if os.Getenv("DUMP") == "" {
		t.Skip()
	}
	tb := open(t)
	tb.visit("filtration/drilling-and-assembling.html")
	evaluate[int](tb, fmt.Sprintf(turnPage, tb.address))
	evaluate[string](tb, fmt.Sprintf(`document.documentElement.dataset.measure=%q`, os.Getenv("DUMP")))
	evaluate[bool](tb, `new Promise(r=>setTimeout(()=>r(true),500))`)
	out, _ := os.Create("/tmp/u/dump-" + os.Getenv("DUMP") + ".txt")
	for _, p := range pages(t) {
		if p == "print.html" {
			continue
		}
		out.WriteString(evaluate[string](tb, fmt.Sprintf(`turnPage(%q).then(main => {
			const lines = [];
			const html = document.documentElement;
			const before = new Map();
			const blocks = new Set();
			for (const m of main.querySelectorAll(".turned")) blocks.add(m.closest("p,li,dd,td,th,caption,label,summary,small,figcaption,output,legend,h1,h2,h3,span:not(.turned)") ?? m.parentElement);
			const svgs=[...main.querySelectorAll("svg")].filter(s=>!s.matches(".mark,.alert"));
			const shot=()=>[...blocks].map(b=>b.textContent.replace(/\s+/g," ").trim());
			const shotS=()=>svgs.map(b=>[...b.querySelectorAll("text,desc,title")].map(x=>x.textContent).join(" ¦ "));
			const left=[...main.querySelectorAll("[data-left]")].map(t=>"LEFT "+t.dataset.left+" "+(t.caption?.textContent??""));
			const heads=[...main.querySelectorAll("thead")].map(t=>"HEAD "+t.textContent.replace(/\s+/g," "));
			const a = shot(), as=shotS();
			html.setAttribute("data-written","");
			return new Promise(r=>setTimeout(()=>{
				const b = shot(), bs=shotS();
				html.removeAttribute("data-written");
				const out=[];
				a.forEach((x,i)=>{ if(x!==b[i]&&x.length<1500) out.push("W "+b[i]+"\nT "+x) });
				as.forEach((x,i)=>{ if(x!==bs[i]) out.push("SW "+bs[i]+"\nST "+x) });
				setTimeout(()=>r(out.concat(left).join("\n")),5);
			},5));
		})`, p)) + "\n=== " + p + "\n")
	}
	out.Close()
	_ = strings.ToLower
}
